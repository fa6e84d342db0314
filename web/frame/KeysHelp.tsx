import { prefer, usePreferences } from './preferences.ts';
import { Sheet } from './Sheet.tsx';

const KEYS: readonly (readonly [string, string])[] = [
  ['j  k  ↓  ↑', 'next row, previous row'],
  ['Enter', 'open'],
  ['a', 'acknowledge: note, then Enter'],
  ['s', 'shelve: until and reason'],
  ['t', 'ticket'],
  ['Shift Enter', 'sign the round'],
  ['/', 'find'],
  ['g then r a c m f i', 'go to round, alerts, compare, measurement, fleet, about'],
  ['g then p w', 'go to how well the alerts do, to why they are raised'],
  ['+  −  ←  →  0', 'zoom, move and reset the trend'],
  ['l', 'log or linear spectrum'],
  ['d', 'the trend, or the change of an alert, as a table'],
  ['x', 'the residuals as a table'],
  ['p', 'the plan as a table'],
  ['Esc', 'close, back to the row'],
  ['?', 'these keys'],
];

export function KeysHelp({ close }: { readonly close: () => void }) {
  const { keys } = usePreferences();
  return (
    <Sheet title="Keys" close={close}>
      <table className="keytable">
        <tbody>
          {KEYS.map(([key, does]) => (
            <tr key={key}>
              <th scope="row">
                {key.split('  ').map((part) => (
                  <kbd key={part}>{part}</kbd>
                ))}
              </th>
              <td>{does}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <label className="check">
        <input type="checkbox" checked={keys} onChange={(e) => prefer({ keys: e.target.checked })} />
        Keys are on. They never act while you type.
      </label>
    </Sheet>
  );
}
