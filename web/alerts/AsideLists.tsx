import { Link } from 'wouter';
import type { Alert } from '../../shared/contract/alerts.ts';
import { nowMs } from '../frame/clock.ts';
import { Flag } from '../frame/Flag.tsx';
import { Section } from '../frame/Section.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useZone } from '../frame/site.ts';
import { several } from '../notation/sentence.ts';
import { moment } from '../notation/time.ts';
import { PRIORITY_WORD, SIGNATURE_TITLE } from '../notation/words.ts';
import type { Lists } from './entries.ts';
import { PUT_ASIDE, type PutAside } from './moves.ts';

const TITLE: Readonly<Record<PutAside, string>> = {
  shelved: 'Shelved',
  suppressed: 'Suppressed',
  'out-of-service': 'Out of service',
};
const MEANING: Readonly<Record<PutAside, string>> = {
  shelved: 'put aside by a person, back at the set time',
  suppressed: 'held back by design while the state lasts',
  'out-of-service': 'taken out by an engineer, until a date',
};
const NONE: Readonly<Record<PutAside, string>> = {
  shelved: 'Nothing is shelved.',
  suppressed: 'No operating state holds anything back.',
  'out-of-service': 'Nothing is out of service.',
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
            {alerts.length === 0 ? null : <p>{several(alerts.length, 'alert')}</p>}
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
  if (state === 'suppressed') return alert.suppressed ? `since ${at(alert.suppressed.since)}` : 'while the state lasts';
  const end = state === 'shelved' ? alert.shelvedUntil : (alert.outOfService?.until ?? null);
  return end === null ? 'until it is taken back' : `until ${at(end)}`;
}

function why(alert: Alert, state: PutAside): string {
  if (state === 'suppressed') return alert.suppressed?.reason ?? '';
  if (state === 'out-of-service') {
    return alert.outOfService ? `${alert.outOfService.by}: ${alert.outOfService.reason}` : '';
  }
  return alert.shelvings > 1 ? `shelved ${alert.shelvings} times so far` : 'shelved once';
}
