import type { ChangeResult } from '../../shared/contract/calibration.ts';
import { useUnit } from '../frame/site.ts';
import { gasTitle } from '../notation/gas.ts';
import { several } from '../notation/sentence.ts';
import { words as all } from '../strings/calibration.ts';
import { changeSays, sorted } from './changes.ts';

const words = all.changeTable;

/** What two scans say of the change of each gas: the sensitivity, which both share, is left out. */
export function ChangeTable({ change }: { readonly change: ChangeResult }) {
  const unit = useUnit();
  const { changed, still } = sorted(change);
  return (
    <>
      {changed.length === 0 ? null : (
        <table className="evtab">
          <thead>
            <tr>
              <th scope="col">{words.gas}</th>
              <th scope="col">{words.change95}</th>
              <th scope="col">{words.so}</th>
            </tr>
          </thead>
          <tbody>
            {changed.map((gas) => (
              <tr key={gas.gas}>
                <th scope="row">{gasTitle(gas.gas)}</th>
                <td className="num">{changeSays(gas, unit)}</td>
                <td>
                  <span className="so">{gas.changePa > 0 ? words.moreThanBefore : words.lessThanBefore}</span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p className="note">
        {changed.length === 0 ? words.noGasHasChanged : words.theOthersHaveNot}
        {': '}
        {several(still.length, 'gas', 'gases')}.
      </p>
    </>
  );
}
