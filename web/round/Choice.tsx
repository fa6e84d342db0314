import { words } from '../strings/round.ts';

interface ChoiceProps {
  readonly name: string;
  readonly value: string;
  readonly options: readonly (readonly [string, string])[];
  readonly choose: (value: string) => void;
  /** What the empty choice is called. */
  readonly all?: string;
}

/** One filter; a value that the address holds and nobody offers stays chosen and is shown. */
export function Choice({ name, value, options, choose, all = words.all }: ChoiceProps) {
  if (options.length === 0 && value === '') return null;
  const unknown = value !== '' && !options.some(([option]) => option === value);
  return (
    <label className={value === '' ? 'choice' : 'choice chosen'}>
      {name}{' '}
      <select value={value} onChange={(event) => choose(event.target.value)}>
        <option value="">{all}</option>
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
