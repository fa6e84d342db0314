import { Link } from 'wouter';
import type { Alert } from '../../shared/contract/alerts.ts';
import { nowMs } from '../frame/clock.ts';
import { Flag } from '../frame/Flag.tsx';
import { Section } from '../frame/Section.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { PRIORITY_WORD, SIGNATURE_TITLE } from '../notation/words.ts';
import { words } from '../strings/alertList.ts';
import type { Lists } from './entries.ts';
import { PUT_ASIDE, type PutAside } from './moves.ts';

const TITLE: Readonly<Record<PutAside, string>> = {
  shelved: words.shelved,
  suppressed: words.suppressed,
  'out-of-service': words.outOfService,
};
const MEANING: Readonly<Record<PutAside, string>> = {
  shelved: words.putAsideByAPerson,
  suppressed: words.heldBackByDesignWhile,
  'out-of-service': words.takenOutByAnEngineer,
};
const NONE: Readonly<Record<PutAside, string>> = {
  shelved: words.nothingIsShelved,
  suppressed: words.noOperatingStateHoldsAnything,
  'out-of-service': words.nothingIsOutOfService,
};

interface AsideListsProps {
  readonly lists: Lists;
  readonly nameOf: (id: string) => string;
}

/** Alerts that are open and call nobody: what holds each, since when or until when, and why. */
export function AsideLists({ lists, nameOf }: AsideListsProps) {
  return PUT_ASIDE.map((state, i) => {
    const alerts = lists.aside[state];
    return (
      <Section
        key={state}
        className={i === PUT_ASIDE.length - 1 ? 'sec last' : 'sec'}
        label={TITLE[state]}
        margin={
          <>
            {alerts.length === 0 ? null : <p>{words.alerts2(alerts.length)}</p>}
            <p>{MEANING[state]}</p>
          </>
        }
      >
        <h2>{TITLE[state]}</h2>
        {alerts.length === 0 ? (
          <p className="note">{NONE[state]}</p>
        ) : (
          <ul className="aside">
            {alerts.map((alert) => (
              <AsideLine key={alert.id} alert={alert} state={state} name={nameOf(alert.chamber)} />
            ))}
          </ul>
        )}
      </Section>
    );
  });
}

function AsideLine({ alert, state, name }: { readonly alert: Alert; readonly state: PutAside; readonly name: string }) {
  const zone = useZone();
  const at = (instant: string) => moment(Date.parse(instant), zone, nowMs());
  return (
    <li>
      <span className="sign-of">
        <Flag priority={alert.priority} state={alert.state} />
        <span className={`pri ${alert.priority}`}>{PRIORITY_WORD[alert.priority]}</span>
      </span>
      <span>
        <Link href={`/alerts/${encodeURIComponent(alert.id)}`}>{SIGNATURE_TITLE[alert.signature]}</Link>
        <span className="note">{name}</span>
      </span>
      <span>
        <b>{until(alert, state, at)}</b>
        <span className="note">{why(alert, state)}</span>
      </span>
      <span className="say">
        <Sentence text={alert.summary} />
      </span>
    </li>
  );
}

function until(alert: Alert, state: PutAside, at: (instant: string) => string): string {
  if (state === 'suppressed')
    return alert.suppressed ? words.since(at(alert.suppressed.since)) : words.whileTheStateLasts;
  const end = state === 'shelved' ? alert.shelvedUntil : (alert.outOfService?.until ?? null);
  return end === null ? words.untilItIsTakenBack : words.until(at(end));
}

function why(alert: Alert, state: PutAside): string {
  if (state === 'suppressed') return alert.suppressed?.reason ?? '';
  if (state === 'out-of-service') {
    return alert.outOfService ? `${alert.outOfService.by}: ${alert.outOfService.reason}` : '';
  }
  return alert.shelvings > 1 ? words.shelvedTimesSoFar(alert.shelvings) : words.shelvedOnce;
}
