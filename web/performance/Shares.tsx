import type { Performance } from '../../shared/contract/performance.ts';
import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { duration } from '../notation/age.ts';
import { count } from '../notation/number.ts';
import { moment } from '../notation/time.ts';
import { PRIORITY_MEANING, PRIORITY_WORD } from '../notation/words.ts';
import { words } from '../strings/performance.ts';

import { percent } from './words.ts';

const WIDTH = 180;
const HEIGHT = 30;

/** The mix of priorities beside the mix that is advised: a mark for the advice, a dash for what was found. */
export function PriorityMix({ priorities }: Pick<Performance, 'priorities'>) {
  return (
    <table className="evtab mix">
      <thead>
        <tr>
          <th scope="col">{words.priority}</th>
          <th scope="col">{words.calls}</th>
          <th scope="col">{words.ofAll}</th>
          <th scope="col">{words.advised}</th>
          <th scope="col" className="picture">
            {words.foundWithinAdvised}
          </th>
        </tr>
      </thead>
      <tbody>
        {priorities.map(({ priority, annunciations, share, target }) => (
          <tr key={priority}>
            <th scope="row">
              {PRIORITY_WORD[priority]} <span className="note">{PRIORITY_MEANING[priority]}</span>
            </th>
            <td className="num" data-name={words.calls}>
              {count(annunciations)}
            </td>
            <td className="num" data-name={words.ofAll}>
              {share === null ? <span className="ink3">{words.tooLittleToSay}</span> : percent(share)}
            </td>
            <td className="num" data-name={words.advised}>
              {words.aboutShare(percent(target))}
            </td>
            <td className="picture">{share === null ? null : <SharePicture share={share} target={target} />}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function SharePicture({ share, target }: { readonly share: number; readonly target: number }) {
  const x = (part: number) => Math.min(1, part) * (WIDTH - 4);
  return (
    <svg className="ev" width={WIDTH} height={HEIGHT} aria-hidden="true">
      <rect className="st-well" x="0" y="3" width={x(target)} height={HEIGHT - 6} />
      <rect className="ev-dash" x={x(share)} y={HEIGHT / 2 - 8} width="4" height="16" />
    </svg>
  );
}

export function Floods({ floods }: Pick<Performance, 'floods'>) {
  const zone = useZone();
  if (floods.length === 0) {
    return <p className="note">{words.noFloodNeverMore}</p>;
  }
  return (
    <ul className="log">
      {floods.map(({ from, to, annunciations, chambers }) => (
        <li key={from}>
          <span>{moment(Date.parse(from), zone, nowMs())}</span>
          <span>{words.floodOf(annunciations, chambers, duration((Date.parse(to) - Date.parse(from)) / 1000))}</span>
        </li>
      ))}
    </ul>
  );
}

/** What became of the alerts that were closed. */
export function closedSentence({ total, acted, planned, falseAlerts }: Performance['closed']): string {
  if (total === 0) return words.noAlertHasBeenClosed;
  const judged = total - planned;
  const rest = words.plannedWork(falseAlerts, planned);
  if (judged === 0) return words.allThatWereClosedWere(total);
  return words.ofClosedAlertsLed(acted, judged, percent(acted / judged), rest);
}
