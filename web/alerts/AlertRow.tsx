import { Link } from 'wouter';
import type { Alert } from '../../shared/contract/alerts.ts';
import { nowMs } from '../frame/clock.ts';
import { Flag } from '../frame/Flag.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { causeTitle, PRIORITY_MEANING, PRIORITY_WORD, SIGNATURE_TITLE, STATE_MEANING } from '../notation/words.ts';
import { words } from '../strings/alertList.ts';
import { isOpen } from './moves.ts';
import { standingLines } from './Standing.tsx';
import { useShownState } from './underway.ts';

interface AlertRowProps {
  readonly alert: Alert;
  readonly name: string;
  readonly selected: boolean;
  /** Member of a group that has been opened. */
  readonly within?: boolean;
}

export function AlertRow({ alert, name, selected, within = false }: AlertRowProps) {
  const zone = useZone();
  const now = nowMs();
  const row = (element: HTMLElement | null) => {
    if (selected) element?.scrollIntoView({ block: 'nearest' });
  };
  const shown = useShownState(alert.id, alert.state);
  const quiet = isOpen(alert.state) ? '' : ' quiet';
  return (
    <article
      ref={row}
      className={`blk row alertrow${selected ? ' sel' : ''}${quiet}${within ? ' within' : ''}`}
      aria-label={`${PRIORITY_WORD[alert.priority]}, ${SIGNATURE_TITLE[alert.signature]}, ${name}`}
    >
      <div className="m">
        <Flag priority={alert.priority} state={shown.state} scale={1.45} onRule />
        <div className="txt">
          <p className={`pri ${alert.priority}`}>{PRIORITY_WORD[alert.priority]}</p>
          <p title={STATE_MEANING[alert.state]}>{shown.word}</p>
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
          <span className="note">{words.raised(moment(Date.parse(alert.raisedAt), zone, now))}</span>
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

/** Where it stands, in words, and how it came there. */
function history(alert: Alert, when: (at: string) => string): string {
  const standing = standingLines({ ...alert, verified: null }, when);
  const parts = [
    standing.length > 0 ? standing.join(' ') : STATE_MEANING[alert.state],
    alert.acknowledged ? words.knowsSince2(alert.acknowledged.by, when(alert.acknowledged.at)) : null,
    alert.returnedAt && !alert.latched ? words.backToUsual(when(alert.returnedAt)) : null,
    alert.closed ? words.closedBy(alert.closed.by, closedAs(alert)) : null,
  ].filter((part) => part !== null);
  return parts.join(' · ');
}

const closedAs = ({ closed, verified }: Alert): string => {
  const own = closed?.cause ?? '';
  const word = verified === null ? '' : causeTitle(verified).toLowerCase();
  return word === '' || word === own.toLowerCase() ? own : `${word} (${own})`;
};
