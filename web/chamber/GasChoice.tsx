import { useState } from 'react';
import { MOST_LINES, rivalOf, strokeOf } from '../charts/strokes.ts';
import { gasLabel, gasTitle } from '../notation/gas.ts';
import { words } from '../strings/chamber.ts';

interface GasChoiceProps {
  readonly known: readonly string[];
  readonly drawn: readonly string[];
  readonly choose: (gases: readonly string[]) => void;
}

/** At most eight lines and never two of one slot: the second asks which to drop. */
export function GasChoice({ known, drawn, choose }: GasChoiceProps) {
  const [asking, setAsking] = useState<{ gas: string; rival: string } | null>(null);
  const all = [...new Set([...drawn, ...known])];
  const toggle = (gas: string) => {
    setAsking(null);
    if (drawn.includes(gas)) {
      if (drawn.length > 1) choose(drawn.filter((other) => other !== gas));
      return;
    }
    const rival = rivalOf(gas, drawn);
    if (rival) setAsking({ gas, rival });
    else if (drawn.length < MOST_LINES) choose([...drawn, gas]);
  };
  const replace = () => {
    if (asking) choose(drawn.map((gas) => (gas === asking.rival ? asking.gas : gas)));
    setAsking(null);
  };
  return (
    <details className="gases">
      <summary>{words.gases(drawn.map(gasLabel).join(' '))}</summary>
      <fieldset>
        <legend className="note">{words.mostLines(MOST_LINES)}</legend>
        <div className="gas-list">
          {all.map((gas) => (
            <label key={gas} className="check">
              <input type="checkbox" checked={drawn.includes(gas)} onChange={() => toggle(gas)} />
              <svg width="22" height="8" aria-hidden="true">
                <path className={`tr-line s-${strokeOf(gas).slot}`} strokeDasharray={strokeOf(gas).dash} d="M0 4H22" />
              </svg>
              {gasTitle(gas)}
            </label>
          ))}
        </div>
        {asking ? (
          <p role="alert">
            {words.shareAColour(gasTitle(asking.gas), gasTitle(asking.rival))}{' '}
            <button type="button" onClick={replace}>
              {words.drawInstead(gasTitle(asking.gas), gasTitle(asking.rival))}
            </button>{' '}
            <button type="button" onClick={() => setAsking(null)}>
              {words.keepGas(gasTitle(asking.rival))}
            </button>
          </p>
        ) : null}
      </fieldset>
    </details>
  );
}
