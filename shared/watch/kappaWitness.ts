/**
 * A gauge in the tail of a vent, or under a fault that stands, is foretold too poorly for its channel to tell a gain from
 * a pump. Its ratio to the gases still can: a gain by a factor moves κ by the same, and what moves gas and gauge does not.
 */
import type { Frame } from './frame.ts';
import { usualKappa } from './impossible.ts';
import { type Candidate, type Naming, withOdds } from './naming.ts';

/** ln κ of another mixture: relative sensitivities err by some tens of per cent, of part of the gas (Redhead). */
const KAPPA_SIGMA = 0.2;

/** What κ is multiplied by when the analyser has moved alone; null: another cause. */
function factorOf({ cause, amplitude }: Candidate): number | null {
  if (cause.id === 'gain-up') return 1 / (1 + amplitude);
  if (cause.id === 'gain-down') return 1 / Math.max(0.02, 1 - amplitude);
  return null;
}

export function withKappa({ memory, baseline, reference, input }: Frame, naming: Naming): Naming {
  const usual = usualKappa(memory);
  const { kappa } = input.analysis;
  const isBlind = reference.lifted !== null || memory.standing.some(({ direction }) => direction !== null);
  if (!baseline.hasGauge || !isBlind || usual === null || !(kappa !== null && kappa > 0)) return naming;
  const away = Math.log(kappa / usual);
  const against = (candidate: Candidate) => {
    const factor = factorOf(candidate);
    if (factor === null) return 0;
    // It only speaks against: another gas that leads may move κ as a gain would.
    return Math.max(0, ((away - Math.log(factor)) ** 2 - away ** 2) / (2 * KAPPA_SIGMA ** 2));
  };
  return {
    ...naming,
    candidates: withOdds(naming.candidates.map((one) => ({ ...one, score: one.score - against(one) }))),
  };
}
