import { gasLabel } from '../notation/gas.ts';
import type { Layout } from './layout.ts';

/** Names of the gases over a column of strips; the strips carry them in words, so this is for the eye only. */
export function StripHead({ layout }: { readonly layout: Layout }) {
  return (
    <svg className="striphead" width={layout.width} height="16" viewBox={`0 0 ${layout.width} 16`} aria-hidden="true">
      {layout.slots.map(({ gas, x }) => (
        <text key={gas} className="st-h" x={x} y="11">
          {gasLabel(gas)}
        </text>
      ))}
    </svg>
  );
}
