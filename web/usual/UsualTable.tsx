import type { Pin, UsualNow } from '../../shared/contract/rehearsal.ts';
import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { count } from '../notation/number.ts';
import { moment } from '../notation/time.ts';
import { inForce, scansOf } from './pinWords.ts';

interface UsualTableProps {
  readonly usual: readonly UsualNow[];
  readonly pins: readonly Pin[];
}

/** One line per operating state: where its baseline is from. */
export function UsualTable({ usual, pins }: UsualTableProps) {
  const zone = useZone();
  const at = (instant: string) => moment(Date.parse(instant), zone, nowMs());
  if (usual.length === 0) {
    return (
      <p className="note">
        Nothing has been learned yet. After some fifty quiet scans in an operating state the watch knows what is usual
        in it; an engineer can also choose the period to learn from.
      </p>
    );
  }
  return (
    <table className="evtab usual-table">
      <thead>
        <tr>
          <th scope="col">State</th>
          <th scope="col">Learned from</th>
          <th scope="col">Scans</th>
          <th scope="col">Baseline</th>
        </tr>
      </thead>
      <tbody>
        {usual.map(({ operatingState, since, until, gases }) => {
          const pin = inForce(pins, operatingState);
          return (
            <tr key={operatingState}>
              <th scope="row">{operatingState}</th>
              <td data-name="learned from">
                {at(since)} – {at(until)}
              </td>
              <td className="num" data-name="scans">
                {count(scansOf(gases))}
              </td>
              <td data-name="baseline">
                {pin ? (
                  <>
                    <b>pinned</b>, version {pin.version}
                    <span className="note">
                      {' '}
                      by {pin.decidedBy ?? pin.setBy}
                      {pin.validFrom ? `, for scans from ${at(pin.validFrom)}` : ''}
                    </span>
                  </>
                ) : (
                  'its own, follows the quiet scans'
                )}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
