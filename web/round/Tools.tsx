import { useState } from 'react';
import type { Round } from '../../shared/contract/round.ts';
import { FindField } from '../frame/FindField.tsx';
import { usePreferences } from '../frame/preferences.ts';
import { gasSpoken } from '../notation/gas.ts';
import { words } from '../strings/round.ts';
import type { RoundFilter } from './address.ts';
import { Choice } from './Choice.tsx';
import { choicesOf } from './rows.ts';

interface ToolsProps {
  readonly round: Round;
  readonly filter: RoundFilter;
  readonly change: (part: Partial<RoundFilter>, how?: 'push' | 'replace') => void;
}

/** Find and filter; all of it in the address, so that a view can be sent to somebody. */
export function Tools({ round, filter, change }: ToolsProps) {
  const [unfolded, setUnfolded] = useState(false);
  const choices = choicesOf(round);
  const areas = round.areas.length > 1 ? round.areas.map(({ id, name }) => [id, name] as const) : [];
  const gases = choices.gases.map((gas) => [gas, gasSpoken(gas)] as const);
  const since = [['changed', words.changed]] as const;
  return (
    <search className={unfolded ? 'tools unfolded' : 'tools'}>
      <FindField value={filter.find} size={18} hint={words.findHint} find={(find) => change({ find }, 'replace')} />
      <button type="button" className="fold" aria-expanded={unfolded} onClick={() => setUnfolded(!unfolded)}>
        {words.filter}
      </button>
      <Choice name={words.area} value={filter.area} options={areas} choose={(area) => change({ area })} />
      <Choice
        name={words.kind}
        value={filter.kind}
        options={pairs(choices.kinds)}
        choose={(kind) => change({ kind })}
      />
      <Choice
        name={words.state}
        value={filter.state}
        options={pairs(choices.states)}
        choose={(state) => change({ state })}
      />
      <Choice name={words.tag} value={filter.tag} options={pairs(choices.tags)} choose={(tag) => change({ tag })} />
      <Choice name={words.gas} value={filter.gas} options={gases} choose={(gas) => change({ gas })} />
      <Choice
        name={words.since}
        value={filter.since === 'all' ? '' : filter.since}
        options={since}
        choose={(value) => change({ since: value === 'changed' ? value : 'all' })}
      />
      <KeyLine />
    </search>
  );
}

const pairs = (choices: readonly string[]) => choices.map((word) => [word, word] as const);

const KEYS = [
  [['j', 'k'], 'walk'],
  [['↵'], 'open'],
  [['a'], 'acknowledge'],
  [['s'], 'shelve'],
  [['?'], 'all'],
] as const;

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
          {words.keys[does]}
        </span>
      ))}
    </span>
  );
}
