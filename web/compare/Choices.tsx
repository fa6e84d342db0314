import type { RoundLine } from '../../shared/contract/round.ts';
import { gasTitle } from '../notation/gas.ts';
import { capital } from '../notation/sentence.ts';
import { words } from '../strings/compare.ts';
import { type Change, ofChamber } from './address.ts';
import { type Pair, relatable } from './pairs.ts';

interface ChoicesProps {
  readonly pair: Pair;
  readonly chambers: readonly RoundLine[];
  /** What the server has against the gas. */
  readonly fault: string | null;
  readonly change: Change;
}

/** What is wrong, at the field that it is about. */
export function Fault({ text }: { readonly text: string | null }) {
  return text === null ? null : (
    <p className="fault" role="alert">
      {words.faultSentence(capital(text))}
    </p>
  );
}

export function Choices({ pair, chambers, fault, change }: ChoicesProps) {
  const { chamber, first, second, relativeTo } = pair;
  const gases = [...new Set([relativeTo, ...relatable(chamber)])];
  return (
    <div className="tools unfolded compare-tools">
      <label>
        {words.chamber}{' '}
        <select value={chamber.id} onChange={(event) => change({ ...ofChamber(event.target.value), mode: 'two' })}>
          {chambers.map(({ id, name }) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <Analyser
        label={words.first}
        chosen={first}
        all={chamber.analysers}
        choose={(id) => change(id === second ? { first: id, second: first } : { first: id })}
      />
      <Analyser
        label={words.second}
        chosen={second}
        all={chamber.analysers}
        choose={(id) => change(id === first ? { first: second, second: id } : { second: id })}
      />
      <button type="button" onClick={() => change({ first: second, second: first })}>
        {words.swap}
      </button>
      <label>
        {words.relativeTo}{' '}
        <select value={relativeTo} onChange={(event) => change({ relativeTo: event.target.value })}>
          {gases.map((gas) => (
            <option key={gas} value={gas}>
              {gasTitle(gas)}
            </option>
          ))}
        </select>
      </label>
      <Fault text={fault} />
    </div>
  );
}

interface AnalyserProps {
  readonly label: string;
  readonly chosen: string;
  readonly all: readonly string[];
  readonly choose: (id: string) => void;
}

function Analyser({ label, chosen, all, choose }: AnalyserProps) {
  return (
    <label>
      {label}{' '}
      <select value={chosen} onChange={(event) => choose(event.target.value)}>
        {all.map((id) => (
          <option key={id} value={id}>
            {id}
          </option>
        ))}
      </select>
    </label>
  );
}
