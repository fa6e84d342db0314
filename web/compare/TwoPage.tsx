import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { Comparison } from '../../shared/contract/comparison.ts';
import type { Round, RoundLine } from '../../shared/contract/round.ts';
import { faultIn, isImpossible } from '../api/faults.ts';
import { comparisonQuestion } from '../api/measurementQuestions.ts';
import { SpanControls } from '../chamber/SpanControls.tsx';
import { askedSpan, spanOf } from '../chamber/span.ts';
import { nowMs, useNow } from '../frame/clock.ts';
import { Answered } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useUnit, useZone } from '../frame/site.ts';
import { capital } from '../notation/sentence.ts';
import { moment, offsetText } from '../notation/time.ts';
import { words } from '../strings/compare.ts';
import { type Change, type CompareAddress, type Mode, ofChamber } from './address.ts';
import { Choices, Fault } from './Choices.tsx';
import { ComparisonTable } from './ComparisonTable.tsx';
import { chambersOf } from './chambers.ts';
import { ModeChoice } from './ModeChoice.tsx';
import { type Pair, paired, pairOf } from './pairs.ts';
import { headSentence } from './words.ts';

interface TwoPageProps {
  readonly address: CompareAddress;
  readonly change: Change;
  readonly round: Round;
  readonly mode: Mode;
  readonly choose: (place: number) => void;
}

/** Two analysers on one chamber: which of them shows more of what. */
export function TwoPage(props: TwoPageProps) {
  const pair = pairOf(props.address, paired(props.round));
  return pair === null ? <NoPair {...props} /> : <ThePair key={pair.chamber.id} {...props} pair={pair} />;
}

const Margin = () => (
  <>
    {words.margin}
    <br />
    <b>{words.modeMargin.two}</b>
    <br />
    {words.onOneChamber}
  </>
);

/** As many as can be read at once. */
const OFFERED = 8;

function NoPair({ address, change, round, mode, choose }: TwoPageProps) {
  const chambers = paired(round);
  const named = chambersOf(round).find(({ id }) => id === address.chamber)?.name ?? capital(address.chamber);
  return (
    <Head margin={<Margin />}>
      <ModeChoice mode={mode} choose={choose} />
      <h1 className="verdict">{chambers.length === 0 ? words.noPair : words.noSecond(named)}</h1>
      <p className="facts">
        <span>{words.whyTwo}</span>
      </p>
      <div className="does">
        {chambers.slice(0, OFFERED).map(({ id, name }: RoundLine) => (
          <button key={id} type="button" onClick={() => change({ ...ofChamber(id), mode: 'two' })}>
            {name}
          </button>
        ))}
        <Link className="btn" href="/fleet">
          {words.toFleet}
        </Link>
      </div>
    </Head>
  );
}

function ThePair({ pair, address, change, round, mode, choose }: TwoPageProps & { readonly pair: Pair }) {
  const unit = useUnit();
  const zone = useZone();
  const now = useNow(15);
  const span = spanOf(address, now);
  const { chamber, first, second, relativeTo } = pair;
  const question = useQuery(
    comparisonQuestion({ chamber: chamber.id, first, second, relativeTo, span: askedSpan(address, now) }, nowMs),
  );
  const comparison = question.data;
  const impossible = isImpossible(question.error);
  const asked: Change = (part, how) => change({ mode: 'two', ...part }, how);
  return (
    <>
      <Head margin={<Margin />}>
        <ModeChoice mode={mode} choose={choose} />
        <div className="where">
          <b>{chamber.name}</b>
          <span className="note">
            <Link href={`/chambers/${encodeURIComponent(chamber.id)}`}>{words.toChamber}</Link>
            {comparison ? ` · ${words.scansOfBoth(comparison.scans[0], first, comparison.scans[1], second)}` : ''}
          </span>
        </div>
        <h1 className="verdict">
          {comparison
            ? headSentence(comparison, unit)
            : impossible
              ? words.nothingOfWhich
              : words.bothOn(first, second, chamber.name)}
        </h1>
        {comparison ? <Notes comparison={comparison} /> : null}
      </Head>
      <Section>
        <Choices pair={pair} chambers={paired(round)} fault={faultIn(question.error, 'relativeTo')} change={asked} />
        <div className="ph">
          <SpanControls address={address} span={span} change={asked} />
        </div>
        <Fault text={faultIn(question.error, 'from') ?? faultIn(question.error, 'to')} />
      </Section>
      <Section
        className="sec last"
        margin={
          <HowToRead
            from={moment(span.from, zone, now)}
            to={`${moment(span.to, zone, now)} (${offsetText(span.to, zone)})`}
          />
        }
      >
        <h2>{words.gasByGas}</h2>
        {impossible ? (
          <p className="note">{words.chooseOther}</p>
        ) : (
          <Answered question={question} what={words.theComparison} lines={8}>
            {(answer) => <ComparisonTable comparison={answer} />}
          </Answered>
        )}
      </Section>
    </>
  );
}

function Notes({ comparison }: { readonly comparison: Comparison }) {
  return comparison.notes.length === 0 ? null : (
    <ul className="remarks">
      {comparison.notes.map(({ code, text }) => (
        <li key={`${code} ${text}`}>
          <Sentence text={capital(text)} />
        </li>
      ))}
    </ul>
  );
}

function HowToRead({ from, to }: { readonly from: string; readonly to: string }) {
  return (
    <>
      <p>{words.inSpan(from, to)}</p>
      <p>{words.below95}</p>
      <p>
        {words.bothSame}
        <br />
        {words.markRatio}
        <br />
        {words.lineInterval}
        <br />
        {words.hatched}
      </p>
    </>
  );
}
