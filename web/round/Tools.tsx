import { useState } from 'react';
import type { Round } from '../../shared/contract/round.ts';
import { FindField } from '../frame/FindField.tsx';
import { usePreferences } from '../frame/preferences.ts';
import type { RoundAddress } from './address.ts';
import { choicesOf } from './rows.ts';

interface ToolsProps {
  readonly round: Round;
  readonly filter: RoundAddress;
  readonly change: (part: Partial<RoundAddress>, how?: 'push' | 'replace') => void;
}

/** Find and filter; all of it in the address, so that a view can be sent to somebody. */
export function Tools({ round, filter, change }: ToolsProps) {
  const [unfolded, setUnfolded] = useState(false);
  const choices = choicesOf(round);
  const areas = round.areas.length > 1 ? round.areas.map(({ id, name }) => [id, name] as const) : [];
  return (
    <search className={unfolded ? 'tools unfolded' : 'tools'}>
      <FindField value={filter.find} size={18} hint="chamber, tag, gas" find={(find) => change({ find }, 'replace')} />
      <button type="button" className="fold" aria-expanded={unfolded} onClick={() => setUnfolded(!unfolded)}>
        Filter
      </button>
      <Choice name="Area" value={filter.area} options={areas} choose={(area) => change({ area })} />
      <Choice name="Kind" value={filter.kind} options={pairs(choices.kinds)} choose={(kind) => change({ kind })} />
      <Choice name="State" value={filter.state} options={pairs(choices.states)} choose={(state) => change({ state })} />
      <Choice name="Tag" value={filter.tag} options={pairs(choices.tags)} choose={(tag) => change({ tag })} />
      <KeyLine />
    </search>
  );
}

const pairs = (words: readonly string[]) => words.map((word) => [word, word] as const);

interface ChoiceProps {
  readonly name: string;
  readonly value: string;
  readonly options: readonly (readonly [string, string])[];
  readonly choose: (value: string) => void;
}

function Choice({ name, value, options, choose }: ChoiceProps) {
  if (options.length === 0 && value === '') return null;
  const unknown = value !== '' && !options.some(([option]) => option === value);
  return (
    <label className="choice">
      {name}{' '}
      <select value={value} onChange={(event) => choose(event.target.value)}>
        <option value="">all</option>
        {unknown ? <option value={value}>{value}</option> : null}
        {options.map(([option, word]) => (
          <option key={option} value={option}>
            {word}
          </option>
        ))}
      </select>
    </label>
  );
}

const KEYS: readonly (readonly [readonly string[], string])[] = [
  [['j', 'k'], 'next, previous'],
  [['↵'], 'open'],
  [['a'], 'acknowledge'],
  [['s'], 'shelve'],
  [['?'], 'all keys'],
];

function KeyLine() {
  const { keys } = usePreferences();
  if (!keys) return null;
  return (
    <span className="keys">
      {KEYS.map(([names, does]) => (
        <span key={does}>
          {names.map((name) => (
            <kbd key={name}>{name}</kbd>
          ))}{' '}
          {does}
        </span>
      ))}
    </span>
  );
}
