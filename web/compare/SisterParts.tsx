import { gasTitle } from '../notation/gas.ts';
import { words } from '../strings/compare.ts';
import type { SisterGas } from './sisterWords.ts';

/** The gases that no chamber of the kind sees, folded into one line. */
export function NobodySees({ gases }: { readonly gases: readonly SisterGas[] }) {
  if (gases.length === 0) return null;
  return (
    <details className="undetected">
      <summary>{words.nobodySees(gases.length)}</summary>
      <p className="note">{words.list(gases.map(({ gas }) => gasTitle(gas)))}</p>
    </details>
  );
}

/** How this chamber and its sisters are drawn, as items of a legend. */
export function SisterKeys() {
  return (
    <>
      <li>
        {words.sistersLegend.here}
        <svg width="12" height="14" aria-hidden="true">
          <rect className="ev-dash" x="3.5" y="1" width="5" height="12" />
        </svg>
      </li>
      <li>
        {words.sistersLegend.sister}
        <svg width="12" height="14" aria-hidden="true">
          <path className="sister" d="M6 1v12" />
        </svg>
      </li>
    </>
  );
}
