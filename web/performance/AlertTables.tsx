import type { ReactNode } from 'react';
import { Link } from 'wouter';
import type { AlertRef, Performance } from '../../shared/contract/performance.ts';
import { nowMs } from '../frame/clock.ts';
import { Sentence } from '../frame/Sentence.tsx';
import { useZone } from '../frame/site.ts';
import { duration } from '../notation/age.ts';
import { count } from '../notation/number.ts';
import { moment } from '../notation/time.ts';
import { PRIORITY_WORD, SIGNATURE_TITLE } from '../notation/words.ts';
import { words } from '../strings/performance.ts';

import { percent } from './words.ts';

export type NameOf = (chamber: string) => string;

interface ListProps {
  readonly performance: Performance;
  readonly nameOf: NameOf;
}

/** What calls most often: the first place to look when there are too many calls. */
export function TopTable({ performance: { top }, nameOf }: ListProps) {
  if (top.length === 0) return <p className="note">{words.nothingHasCalled}</p>;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reached by keys
    <section className="scrolls" aria-label={words.whatCallsMostTable} tabIndex={0}>
      <table className="counts">
        <thead>
          <tr>
            <th scope="col">{words.chamber}</th>
            <th scope="col">{words.about}</th>
            <th scope="col" className="right">
              {words.calls}
            </th>
            <th scope="col" className="right">
              {words.ofAll}
            </th>
          </tr>
        </thead>
        <tbody>
          {top.map(({ chamber, signature, annunciations, share }) => (
            <tr key={`${chamber} ${signature}`}>
              <th scope="row">
                <Link href={`/alerts?state=all&signature=${signature}&chamber=${encodeURIComponent(chamber)}`}>
                  {nameOf(chamber)}
                </Link>
              </th>
              <td>{SIGNATURE_TITLE[signature]}</td>
              <td className="num right">{count(annunciations)}</td>
              <td className="num right">{percent(share)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** Calls a person could do nothing with: they come and go, they are over at once, or they stand for days. */
export function NuisanceLists({ performance, nameOf }: ListProps) {
  const { chattering, fleeting, stale } = performance;
  return (
    <>
      <AlertLines
        title={words.chattering}
        none={words.noneSwingsBetweenCalling}
        nameOf={nameOf}
        lines={chattering.map(({ alert, times, withinSeconds }) => ({
          alert,
          said: words.within(times, duration(withinSeconds)),
        }))}
      />
      <AlertLines
        title={words.fleeting}
        none={words.noneWasOver}
        nameOf={nameOf}
        lines={fleeting.map(({ alert, stoodSeconds }) => ({ alert, said: words.stood(duration(stoodSeconds)) }))}
      />
      <AlertLines
        title={words.stale}
        none={words.noneHasStoodForMore}
        nameOf={nameOf}
        lines={stale.map(({ alert, stoodHours }) => ({ alert, said: words.standsFor(duration(stoodHours * 3600)) }))}
      />
    </>
  );
}

/** What calls nobody just now, and until when. */
export function AsideOfAll({ performance, nameOf }: ListProps) {
  const zone = useZone();
  const at = (instant: string | null, none: string) =>
    instant === null ? none : moment(Date.parse(instant), zone, nowMs());
  const { shelved, suppressed, outOfService } = performance;
  return (
    <>
      <AlertLines
        title={words.shelved}
        none={words.nothingIsShelved}
        nameOf={nameOf}
        lines={shelved.map(({ alert, until, reason, times }) => ({
          alert,
          said:
            times > 1
              ? words.shelvedUntilAgain(at(until, words.itIsTakenBack), reason, times)
              : words.shelvedUntil(at(until, words.itIsTakenBack), reason),
        }))}
      />
      <AlertLines
        title={words.suppressed}
        none={words.noOperatingStateHoldsAnything}
        nameOf={nameOf}
        lines={suppressed.map(({ alert, since, reason }) => ({
          alert,
          said: words.since(at(since, words.itWasRaised), reason),
        }))}
      />
      <AlertLines
        title={words.outOfService}
        none={words.nothingIsOutOfService}
        nameOf={nameOf}
        lines={outOfService.map(({ alert, until, reason, by }) => ({
          alert,
          said: words.untilBy(at(until, words.itIsReturned), by, reason),
        }))}
      />
    </>
  );
}

interface AlertLinesProps {
  readonly title: string;
  readonly none: string;
  readonly nameOf: NameOf;
  readonly lines: readonly { readonly alert: AlertRef; readonly said: ReactNode }[];
}

function AlertLines({ title, none, nameOf, lines }: AlertLinesProps) {
  return (
    <>
      <h3>
        {title} <span className="note">{lines.length === 0 ? '' : count(lines.length)}</span>
      </h3>
      {lines.length === 0 ? <p className="note">{none}</p> : null}
      <ul className="reflines">
        {lines.map(({ alert, said }) => (
          <li key={alert.id}>
            <span>
              <Link href={`/alerts/${encodeURIComponent(alert.id)}`}>{SIGNATURE_TITLE[alert.signature]}</Link>
              <span className="note">
                {PRIORITY_WORD[alert.priority]}, {nameOf(alert.chamber)}
              </span>
            </span>
            <span>{said}</span>
            <span className="so-say">
              <Sentence text={alert.summary} />
            </span>
          </li>
        ))}
      </ul>
    </>
  );
}
