import type { Pin, UsualNow } from '../../shared/contract/rehearsal.ts';
import { spanText } from '../chamber/spanText.ts';
import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { count } from '../notation/number.ts';
import { moment } from '../notation/time.ts';
import { words as all } from '../strings/usual.ts';
import { inForce, scansOf } from './pinWords.ts';

const words = all.usualTable;

interface UsualTableProps {
  readonly usual: readonly UsualNow[];
  readonly pins: readonly Pin[];
}

/** One line per operating state: where its baseline is from. */
export function UsualTable({ usual, pins }: UsualTableProps) {
  const zone = useZone();
  const at = (instant: string) => moment(Date.parse(instant), zone, nowMs());
  if (usual.length === 0) {
    return <p className="note">{words.nothingHasBeenLearned}</p>;
  }
  return (
    <table className="evtab usual-table">
      <thead>
        <tr>
          <th scope="col">{words.state}</th>
          <th scope="col">{words.learnedFrom}</th>
          <th scope="col">{words.scans}</th>
          <th scope="col">{words.baseline}</th>
        </tr>
      </thead>
      <tbody>
        {usual.map(({ operatingState, since, until, gases }) => {
          const pin = inForce(pins, operatingState);
          return (
            <tr key={operatingState}>
              <th scope="row">{operatingState}</th>
              <td data-name={words.learnedFrom}>
                {spanText({ from: Date.parse(since), to: Date.parse(until) }, zone, nowMs())}
              </td>
              <td className="num" data-name={words.scans}>
                {count(scansOf(gases))}
              </td>
              <td data-name={words.baseline}>
                {pin ? (
                  <>
                    <b>{words.pinned}</b>
                    {words.version(pin.version)}
                    <span className="note">
                      {' '}
                      {words.by(pin.decidedBy ?? pin.setBy, pin.validFrom ? words.forScansFrom(at(pin.validFrom)) : '')}
                    </span>
                  </>
                ) : (
                  words.itsOwnFollowsThe
                )}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
