import { words } from '../strings/frame.ts';
import { keyGroups } from './keyList.ts';
import { prefer, usePreferences } from './preferences.ts';
import { Sheet } from './Sheet.tsx';

export function KeysHelp({ close }: { readonly close: () => void }) {
  const { keys } = usePreferences();
  return (
    <Sheet title={words.keys} close={close}>
      <label className="check">
        <input type="checkbox" checked={keys} onChange={(e) => prefer({ keys: e.target.checked })} />
        {words.keysAreOn}
      </label>
      <table className="keytable">
        {keyGroups().map(({ title, lines }) => (
          <tbody key={title}>
            <tr>
              <th scope="rowgroup" colSpan={2} className="group">
                {title}
              </th>
            </tr>
            {lines.map(({ signs, does }) => (
              <tr key={signs}>
                <th scope="row">
                  {signs.split('  ').map((sign) => (
                    <kbd key={sign}>{sign}</kbd>
                  ))}
                </th>
                <td>{does}</td>
              </tr>
            ))}
          </tbody>
        ))}
      </table>
    </Sheet>
  );
}
