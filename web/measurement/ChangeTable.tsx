import type { ChangeResult } from '../../shared/contract/calibration.ts';
import { useUnit } from '../frame/site.ts';
import { gasTitle } from '../notation/gas.ts';
import { several } from '../notation/sentence.ts';
import { changeSays, sorted } from './changes.ts';

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
              <th scope="col">Gas</th>
              <th scope="col">Change, 95 %</th>
              <th scope="col">So</th>
            </tr>
          </thead>
          <tbody>
            {changed.map((gas) => (
              <tr key={gas.gas}>
                <th scope="row">{gasTitle(gas.gas)}</th>
                <td className="num">{changeSays(gas, unit)}</td>
                <td>
                  <span className="so">{gas.changePa > 0 ? 'more than before' : 'less than before'}</span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p className="note">
        {changed.length === 0 ? 'No gas has changed by more than it is unsure' : 'The others have not changed by more'}
        {': '}
        {several(still.length, 'gas', 'gases')}.
      </p>
    </>
  );
}
