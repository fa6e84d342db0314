import { gasTitle } from '../notation/gas.ts';

interface GasHeadProps {
  readonly gas: string;
  readonly spoken: string;
}

/** Head of a row: the formula, and the name where it says more. */
export function GasHead({ gas, spoken }: GasHeadProps) {
  const title = gasTitle(gas);
  return (
    <th scope="row">
      {title}
      {spoken === title ? null : <span className="note"> {spoken}</span>}
    </th>
  );
}
