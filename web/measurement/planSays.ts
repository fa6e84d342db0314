import type { Plan } from '../../shared/contract/plan.ts';
import type { PressureUnit } from '../../shared/units.ts';
import { duration } from '../notation/age.ts';
import { gasSpoken } from '../notation/gas.ts';
import { plain, thousands } from '../notation/number.ts';
import { NBSP, pressure } from '../notation/pressure.ts';
import { sentenceIn } from '../notation/sentence.ts';

/** Seconds below a minute as they are, longer ones as a person counts them. */
export const secondsSaid = (seconds: number): string =>
  seconds < 60 ? `${plain(seconds)}${NBSP}s` : duration(seconds);

const sweepsSaid = (sweeps: number): string => (sweeps === 1 ? 'one sweep' : `${thousands(String(sweeps))} sweeps`);

/** What it takes, and where averaging stops helping; where no number can be given, why not. */
export function planSays(plan: Plan, unit: PressureUnit): string {
  if (plan.sweeps === null) return sentenceIn(plan.because, unit);
  const what = `${gasSpoken(plan.gas)} at ${pressure(plan.pressure, unit)}`;
  const limit =
    plan.bestSweeps === null
      ? ''
      : ` Averaging more than ${sweepsSaid(plan.bestSweeps)} does not help${
          plan.leastDetectable === null ? '' : `: ${pressure(plan.leastDetectable, unit)} is the least that it can show`
        }.`;
  const time = plan.responseSeconds === null ? '' : `: a response time of ${secondsSaid(plan.responseSeconds)}`;
  return `To see ${what} takes ${sweepsSaid(plan.sweeps)}${time}.${limit}`;
}
