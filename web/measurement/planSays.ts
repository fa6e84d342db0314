import type { Plan } from '../../shared/contract/plan.ts';
import type { PressureUnit } from '../../shared/units.ts';
import { duration } from '../notation/age.ts';
import { gasSpoken } from '../notation/gas.ts';
import { plain, thousands } from '../notation/number.ts';
import { NBSP, pressure } from '../notation/pressure.ts';
import { sentenceIn } from '../notation/sentence.ts';
import { words as all } from '../strings/analyser.ts';

const words = all.planSays;

/** Seconds below a minute as they are, longer ones as a person counts them. */
export const secondsSaid = (seconds: number): string =>
  seconds < 60 ? `${plain(seconds)}${NBSP}s` : duration(seconds);

const sweepsSaid = (sweeps: number): string =>
  sweeps === 1 ? words.oneSweep : words.sweeps(thousands(String(sweeps)));

/** What it takes, and where averaging stops helping; where no number can be given, why not. */
export function planSays(plan: Plan, unit: PressureUnit): string {
  if (plan.sweeps === null) return sentenceIn(plan.because, unit);
  const what = words.at(gasSpoken(plan.gas), pressure(plan.pressure, unit));
  const limit =
    plan.bestSweeps === null
      ? ''
      : words.averagingMoreThanDoes(
          sweepsSaid(plan.bestSweeps),
          plan.leastDetectable === null ? '' : words.isTheLeastThat(pressure(plan.leastDetectable, unit)),
        );
  const time = plan.responseSeconds === null ? '' : words.aResponseTimeOf(secondsSaid(plan.responseSeconds));
  return words.toSeeTakes(what, sweepsSaid(plan.sweeps), time, limit);
}
