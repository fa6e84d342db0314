import { Link } from 'wouter';
import type { Round, RoundArea } from '../../shared/contract/round.ts';
import { useNow } from '../frame/clock.ts';
import { Head } from '../frame/Section.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useZone } from '../frame/site.ts';
import { clockTime, longDate, moment, offsetText } from '../notation/time.ts';
import { Rich } from '../strings/Rich.tsx';
import { words } from '../strings/round.ts';
import { PaperHead } from './Paper.tsx';
import { signedOf } from './rows.ts';

const sharedShift = (areas: readonly RoundArea[]): RoundArea['shift'] => {
  const [first, ...others] = areas.map((area) => area.shift);
  const same = others.every((shift) => shift?.from === first?.from && shift?.to === first?.to);
  return same ? (first ?? null) : null;
};

/** The sentence over the round, and what was signed before it. */
export function Heading({ round }: { readonly round: Round }) {
  const zone = useZone();
  const now = useNow(30);
  const shift = sharedShift(round.areas);
  const { shelved } = round;
  const signed = signedOf(round);
  const [last] = signed;
  const unsigned = round.areas.length - signed.length;
  return (
    <Head
      margin={
        <>
          {words.title}
          {shift ? (
            <>
              <br />
              <b>
                {shift.from}–{shift.to}
              </b>
              <br />
              {words.thisShift}
            </>
          ) : null}
        </>
      }
    >
      <h1 className="verdict">
        <Sentence text={round.headline} />
      </h1>
      <PaperHead round={round} shift={shift} />
      <p className="facts">
        <span>{words.now(longDate(now, zone), clockTime(now, zone), offsetText(now, zone))}</span>
        <span>{last ? <LastSigned last={last} now={now} /> : words.neverSigned}</span>
        {last && unsigned > 0 ? <span>{words.areasNeverSigned(unsigned)}</span> : null}
        {shelved.count > 0 ? (
          <span>
            <Rich
              text={
                shelved.nextReturnsAt
                  ? words.shelvedReturns(shelved.count, moment(Date.parse(shelved.nextReturnsAt), zone, now))
                  : words.shelved(shelved.count)
              }
              parts={{ shelved: (inner) => <Link href="/alerts?state=shelved">{inner}</Link> }}
            />
          </span>
        ) : null}
        {last?.note ? <span>{words.note(last.note)}</span> : null}
        <span>
          <a href="#handover">{words.toHandover}</a>
        </span>
        {last ? (
          <span>
            <Link href="/rounds">{words.earlier}</Link>
          </span>
        ) : null}
      </p>
    </Head>
  );
}

function LastSigned({ last, now }: { readonly last: NonNullable<RoundArea['lastSigned']>; readonly now: number }) {
  const zone = useZone();
  const when = moment(Date.parse(last.at), zone, now);
  const took = last.countersigned;
  return (
    <Rich
      text={took ? words.lastTaken(when, last.by, took.by) : words.lastSigned(when, last.by)}
      parts={{ round: (inner) => <Link href={`/rounds/${encodeURIComponent(last.id)}`}>{inner}</Link> }}
    />
  );
}
