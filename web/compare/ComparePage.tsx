import { useQuery } from '@tanstack/react-query';
import { Link, useLocation } from 'wouter';
import type { Comparison } from '../../shared/contract/comparison.ts';
import type { RoundLine } from '../../shared/contract/round.ts';
import { useAddress } from '../address/useAddress.ts';
import { faultIn, isImpossible } from '../api/faults.ts';
import { comparisonQuestion } from '../api/measurementQuestions.ts';
import { roundQuestion } from '../api/questions.ts';
import { SpanControls } from '../chamber/SpanControls.tsx';
import { askedSpan, spanOf } from '../chamber/span.ts';
import { nowMs, useNow } from '../frame/clock.ts';
import { useKeys } from '../frame/keys.ts';
import { Answered } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useUnit, useZone } from '../frame/site.ts';
import { useTitle } from '../frame/title.ts';
import { capital, several } from '../notation/sentence.ts';
import { moment, offsetText } from '../notation/time.ts';
import { type CompareAddress, compareCodec } from './address.ts';
import { type Change, Choices, Fault } from './Choices.tsx';
import { ComparisonTable } from './ComparisonTable.tsx';
import { type Pair, paired, pairOf } from './pairs.ts';
import { headSentence } from './words.ts';

export function ComparePage() {
  useTitle('Compare');
  const [address, change] = useAddress(compareCodec);
  const [, go] = useLocation();
  const round = useQuery(roundQuestion);
  useKeys({ escape: () => go('/') });
  const chambers = paired(round.data);
  const pair = pairOf(address, chambers);
  if (round.data === undefined) {
    return (
      <Section className="head" margin="Compare">
        <h1 className="verdict">Two analysers on one chamber</h1>
        <Answered question={round} what="The chambers">
          {() => null}
        </Answered>
      </Section>
    );
  }
  if (pair === null) return <NoPair address={address} chambers={chambers} change={change} />;
  return <ThePair pair={pair} chambers={chambers} address={address} change={change} />;
}

interface NoPairProps {
  readonly address: CompareAddress;
  readonly chambers: readonly RoundLine[];
  readonly change: Change;
}

function NoPair({ address, chambers, change }: NoPairProps) {
  const sentence =
    chambers.length === 0
      ? 'No chamber has two analysers: there is nothing to compare.'
      : `${capital(address.chamber)} has no second analyser, so nothing can be compared there.`;
  return (
    <Head margin="Compare">
      <h1 className="verdict">{sentence}</h1>
      <p className="facts">
        <span>
          A second analyser on the same chamber tells the chamber’s gas from what an analyser gives off itself: what
          only one of them shows does not come from the chamber.
        </span>
      </p>
      <div className="does">
        {chambers.slice(0, 8).map(({ id, name }) => (
          <button key={id} type="button" onClick={() => change({ chamber: id, first: '', second: '' })}>
            {name}
          </button>
        ))}
        <Link className="btn" href="/fleet">
          Go to the fleet
        </Link>
      </div>
    </Head>
  );
}

interface ThePairProps {
  readonly pair: Pair;
  readonly chambers: readonly RoundLine[];
  readonly address: CompareAddress;
  readonly change: Change;
}

function ThePair({ pair, chambers, address, change }: ThePairProps) {
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
  return (
    <>
      <Head
        margin={
          <>
            Compare
            <br />
            <b>two analysers</b>
            <br />
            on one chamber
          </>
        }
      >
        <div className="where">
          <b>{chamber.name}</b>
          <span className="note">
            <Link href={`/chambers/${encodeURIComponent(chamber.id)}`}>the chamber</Link>
            {comparison
              ? ` · ${several(comparison.scans[0], 'scan')} of ${first}, ${several(comparison.scans[1], 'scan')} of ${second}`
              : ''}
          </span>
        </div>
        <h1 className="verdict">
          {comparison
            ? headSentence(comparison, unit)
            : impossible
              ? 'Nothing can be said of which of the two adds gas of its own.'
              : `${first} and ${second} on ${chamber.name}`}
        </h1>
        {comparison ? <Notes comparison={comparison} /> : null}
      </Head>
      <Section>
        <Choices pair={pair} chambers={chambers} fault={faultIn(question.error, 'relativeTo')} change={change} />
        <div className="ph">
          <SpanControls address={address} span={span} change={change} />
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
        <h2>Gas by gas</h2>
        {impossible ? (
          <p className="note">Choose another gas or another span above: this one gives nothing to compare.</p>
        ) : (
          <Answered question={question} what="The comparison" lines={8}>
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
      <p>
        {from} – {to}
      </p>
      <p>in brackets: 95 % interval</p>
      <p>
        pale: both show the same
        <br />
        mark: the ratio
        <br />
        line: its 95 % interval
        <br />
        hatched: cannot tell
      </p>
    </>
  );
}
