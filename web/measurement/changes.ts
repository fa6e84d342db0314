import type { ChangeResult } from '../../shared/contract/calibration.ts';
import type { PressureUnit } from '../../shared/units.ts';
import { pressure } from '../notation/pressure.ts';
import { words as all } from '../strings/calibration.ts';

const words = all.changes;

type Changed = ChangeResult['gases'][number];

/** Two-sided 95 % of a normal distribution. */
const TWO_SIDED_95 = 1.96;

/** Those that have changed, the surest first; the others have not by more than they are unsure. */
export function sorted({ gases }: ChangeResult): { changed: readonly Changed[]; still: readonly Changed[] } {
  const odds = ({ changePa, sigmaPa }: Changed) => (sigmaPa > 0 ? Math.abs(changePa) / sigmaPa : 0);
  return {
    changed: gases.filter(({ significant }) => significant).toSorted((a, b) => odds(b) - odds(a)),
    still: gases.filter(({ significant }) => !significant),
  };
}

/** `+3.1×10⁻⁸ Pa (2.4–3.8)` in full, since a change has a sign. */
export function changeSays({ changePa, sigmaPa }: Changed, unit: PressureUnit): string {
  const sign = changePa < 0 ? '−' : '+';
  return words.giveOrTake(sign, pressure(Math.abs(changePa), unit), pressure(TWO_SIDED_95 * sigmaPa, unit));
}
