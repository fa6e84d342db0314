import { type ReactNode, useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { Alert } from '../../shared/contract/alerts.ts';
import { nowMs } from '../frame/clock.ts';
import { Flag } from '../frame/Flag.tsx';
import { useKeys } from '../frame/keys.ts';
import { Sentence } from '../frame/Sentence.tsx';
import { ShowMore } from '../frame/ShowMore.tsx';
import { useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { PRIORITY_MEANING, PRIORITY_WORD, SIGNATURE_TITLE, STATE_MEANING } from '../notation/words.ts';
import { isOpen } from './moves.ts';

/** Beyond this many rows the page shows a part and says so. */
const SHOWN_AT_FIRST = 100;

export function AlertList({
  alerts,
  nameOf,
}: {
  readonly alerts: readonly Alert[];
  readonly nameOf: (id: string) => string;
}) {
  const [most, setMost] = useState(SHOWN_AT_FIRST);
  const [at, setAt] = useState(-1);
  const [, go] = useLocation();
  const shown = alerts.slice(0, most);
  const step = (by: number) => setAt(Math.max(0, Math.min(shown.length - 1, at + by)));
  const selected = shown[at];
  useKeys({
    j: () => step(1),
    down: () => step(1),
    k: () => step(-1),
    up: () => step(-1),
    enter: selected ? () => go(`/alerts/${encodeURIComponent(selected.id)}`) : undefined,
  });
  return (
    <>
      {shown.map((alert, i) => (
        <AlertRow key={alert.id} alert={alert} name={nameOf(alert.chamber)} selected={i === at} />
      ))}
      <ShowMore shown={shown.length} all={alerts.length} more={() => setMost(most + SHOWN_AT_FIRST)} last />
    </>
  );
}

function AlertRow({
  alert,
  name,
  selected,
}: {
  readonly alert: Alert;
  readonly name: string;
  readonly selected: boolean;
}) {
  const zone = useZone();
  const now = nowMs();
  const row = (element: HTMLElement | null) => {
    if (selected) element?.scrollIntoView({ block: 'nearest' });
  };
  return (
    <article
      ref={row}
      className={`blk row alertrow${selected ? ' sel' : ''}${isOpen(alert.state) ? '' : ' quiet'}`}
      aria-label={`${PRIORITY_WORD[alert.priority]}, ${SIGNATURE_TITLE[alert.signature]}, ${name}`}
    >
      <div className="m">
        <Flag priority={alert.priority} state={alert.state} scale={1.45} onRule />
        <div className="txt">
          <p className={`pri ${alert.priority}`}>{PRIORITY_WORD[alert.priority]}</p>
          <p title={STATE_MEANING[alert.state]}>{alert.state === 'normal' ? 'over' : alert.state}</p>
          <p className="unseen">{PRIORITY_MEANING[alert.priority]}</p>
        </div>
      </div>
      <div className="c">
        <div className="who">
          <h2>
            <Link href={`/alerts/${encodeURIComponent(alert.id)}`}>{SIGNATURE_TITLE[alert.signature]}</Link>
          </h2>
          <span className="note">
            <Link href={`/chambers/${encodeURIComponent(alert.chamber)}?alert=${encodeURIComponent(alert.id)}`}>
              {name}
            </Link>
          </span>
          <span className="note">raised {moment(Date.parse(alert.raisedAt), zone, now)}</span>
        </div>
        <div className="saying">
          <p className="say">
            <span className="narrow-only">
              <b className={`pri ${alert.priority}`}>{PRIORITY_WORD[alert.priority]}.</b>{' '}
            </span>
            <Sentence text={alert.summary} />
          </p>
          <p className="note">{history(alert, (at) => moment(Date.parse(at), zone, now))}</p>
        </div>
      </div>
    </article>
  );
}

function history(alert: Alert, when: (at: string) => string): ReactNode {
  const parts = [
    alert.acknowledged ? `${alert.acknowledged.by} knows since ${when(alert.acknowledged.at)}` : null,
    alert.shelvedUntil && alert.state === 'shelved' ? `shelved until ${when(alert.shelvedUntil)}` : null,
    alert.returnedAt ? `back to usual ${when(alert.returnedAt)}` : null,
    alert.closed ? `closed by ${alert.closed.by}: ${alert.closed.cause}` : null,
  ].filter((part) => part !== null);
  return parts.join(' · ');
}
