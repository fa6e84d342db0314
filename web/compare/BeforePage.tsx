import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { BeforeAfter } from '../../shared/contract/beforeAfter.ts';
import type { Round, RoundLine } from '../../shared/contract/round.ts';
import { beforeAfterQuestion } from '../api/compareQuestions.ts';
import { faultIn, isImpossible } from '../api/faults.ts';
import { useNow } from '../frame/clock.ts';
import { Answered } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useUnit, useZone } from '../frame/site.ts';
import { moment, offsetText } from '../notation/time.ts';
import { words as compared } from '../strings/compare.ts';
import { words } from '../strings/compareBefore.ts';
import type { Change, CompareAddress, Mode } from './address.ts';
import { BeforeTools } from './BeforeTools.tsx';
import { beneath, headSentence } from './beforeWords.ts';
import { hasFewForLine, lineMoment } from './courseWords.ts';
import { LadderTable } from './LadderTable.tsx';
import { Likenesses } from './Likenesses.tsx';
import { ModeChoice } from './ModeChoice.tsx';
import { SpectraSection } from './SpectraSection.tsx';

export interface OneChamberProps {
  readonly address: CompareAddress;
  readonly change: Change;
  readonly round: Round;
  readonly mode: Mode;
  readonly choose: (place: number) => void;
  readonly chamber: RoundLine;
  readonly chambers: readonly RoundLine[];
}

const bothThere = ({ before, after }: BeforeAfter): boolean => before.scans > 0 && after.scans > 0;

const spanIn = (from: number | null, to: number | null) => (from !== null && to !== null ? { from, to } : null);

/** One chamber before and after a repair: did it work? */
export function BeforePage({ address, change, mode, choose, chamber, chambers }: OneChamberProps) {
  const zone = useZone();
  const now = useNow(30);
  const question = useQuery(
    beforeAfterQuestion({
      chamber: chamber.id,
      alert: address.alert === '' ? null : address.alert === 'none' ? '' : address.alert,
      analyser: address.analyser || null,
      before: spanIn(address.beforeFrom, address.beforeTo),
      after: spanIn(address.afterFrom, address.afterTo),
    }),
  );
  const answer = question.data;
  const at = (ms: number) => moment(ms, zone, now);
  const fault =
    ['alert', 'analyser', 'beforeFrom', 'beforeTo', 'afterFrom', 'afterTo']
      .map((field) => faultIn(question.error, field))
      .find((found) => found !== null) ?? null;
  return (
    <>
      <Head
        margin={
          <>
            {compared.margin}
            <br />
            <b>{compared.modeMargin.before}</b>
            {answer ? <MarginTimes answer={answer} at={at} /> : null}
          </>
        }
      >
        <ModeChoice mode={mode} choose={choose} />
        <div className="where">
          <b>{chamber.name}</b>
          <span className="note">
            <Link href={`/chambers/${encodeURIComponent(chamber.id)}`}>{compared.toChamber}</Link>
            {answer ? ` · ${betweenText(answer, at)} (${offsetText(now, zone)})` : ''}
          </span>
        </div>
        <h1 className="verdict">{answer ? headSentence(answer) : compared.mode.before}</h1>
        {answer ? (
          <>
            {bothThere(answer) ? <Likenesses answer={answer} /> : null}
            {beneath(answer, at).map((text) => (
              <p key={text} className="say beneath">
                {text}
              </p>
            ))}
            {answer.alert ? (
              <p className="does">
                <Link className="btn" href={`/alerts/${encodeURIComponent(answer.alert.id)}`}>
                  {words.toAlert}
                </Link>
              </p>
            ) : null}
          </>
        ) : null}
      </Head>
      <Section>
        <BeforeTools
          answer={answer}
          address={address}
          change={change}
          chamber={chamber}
          chambers={chambers}
          fault={fault}
        />
      </Section>
      <Section className={answer && bothThere(answer) ? 'sec' : 'sec last'} margin={<HowToRead />}>
        <h2>{compared.gasByGas}</h2>
        {isImpossible(question.error) && answer === undefined ? (
          <p className="note">{words.nothingYetMore}</p>
        ) : (
          <Answered question={question} what={compared.theComparison} lines={8}>
            {(found) =>
              bothThere(found) ? (
                <>
                  <LadderTable answer={found} />
                  <HowFound answer={found} />
                  <p className="note how">{words.howSure}</p>
                  <Notes answer={found} />
                </>
              ) : (
                <p className="note">{words.oneSide}</p>
              )
            }
          </Answered>
        )}
      </Section>
      {answer && bothThere(answer) ? <SpectraSection answer={answer} address={address} change={change} /> : null}
    </>
  );
}

function betweenText({ between, alert }: BeforeAfter, at: (ms: number) => string): string {
  const vent = between ? words.opened(at(Date.parse(between.from)), at(Date.parse(between.to))) : words.noVent;
  return alert ? `${words.raised(at(Date.parse(alert.raisedAt)))} · ${vent}` : vent;
}

function MarginTimes({ answer, at }: { readonly answer: BeforeAfter; readonly at: (ms: number) => string }) {
  return (['before', 'after'] as const).map((side) => {
    const { from, to } = answer[side];
    if (from === null || to === null) return null;
    return (
      <p key={side}>
        {words.legend[side]}
        <br />
        {compared.inSpan(at(Date.parse(from)), at(Date.parse(to)))}
      </p>
    );
  });
}

/** While an alert stands: at which moment the gases were read, and what there is where they have no line. */
function HowFound({ answer }: { readonly answer: BeforeAfter }) {
  const zone = useZone();
  const now = useNow(60);
  const at = lineMoment(answer);
  return (
    <>
      {at === null ? null : <p className="note how">{words.howMoving(moment(Date.parse(at), zone, now))}</p>}
      {hasFewForLine(answer) ? <p className="note how">{words.fewForLine}</p> : null}
    </>
  );
}

function Notes({ answer }: { readonly answer: BeforeAfter }) {
  return answer.notes.map(({ code, text }) => (
    <p key={code} className="note">
      <Sentence text={text} />
    </p>
  ));
}

function HowToRead() {
  const unit = useUnit();
  return (
    <>
      <p>{words.pressureIn(unit)}</p>
      <ul className="lg">
        <li>
          {words.legend.before}
          <svg width="12" height="14" aria-hidden="true">
            <rect className="ld-before" x="3" y="1" width="6" height="12" />
          </svg>
        </li>
        <li>
          {words.legend.after}
          <svg width="12" height="14" aria-hidden="true">
            <rect className="ev-dash" x="3" y="1" width="6" height="12" />
          </svg>
        </li>
        <li>
          {words.legend.usual}
          <svg width="12" height="14" aria-hidden="true">
            <rect className="ld-bed" y="1" width="12" height="12" />
          </svg>
        </li>
      </ul>
      <p>{compared.below95}</p>
    </>
  );
}
