import type { RoundLine } from '../../shared/contract/round.ts';
import { Key } from '../frame/Key.tsx';
import { words } from '../strings/compare.ts';
import { type Change, MODES, type Mode, ofChamber } from './address.ts';

interface ModeChoiceProps {
  readonly mode: Mode;
  readonly choose: (place: number) => void;
}

/** Which of the three comparisons: keys 1, 2, 3. */
export function ModeChoice({ mode, choose }: ModeChoiceProps) {
  return (
    <fieldset className="opt modes">
      <legend className="unseen">{words.modes}</legend>
      {MODES.map((one, place) => (
        <button key={one} type="button" aria-pressed={one === mode} onClick={() => choose(place)}>
          {words.mode[one]} <Key name={String(place + 1)} />
        </button>
      ))}
    </fieldset>
  );
}

interface ChamberChoiceProps {
  readonly chamber: RoundLine;
  readonly chambers: readonly RoundLine[];
  readonly change: Change;
}

export function ChamberChoice({ chamber, chambers, change }: ChamberChoiceProps) {
  return (
    <label>
      {words.chamber}{' '}
      <select value={chamber.id} onChange={(event) => change(ofChamber(event.target.value))}>
        {chambers.map(({ id, name }) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </select>
    </label>
  );
}
