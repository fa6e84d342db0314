/**
 * Which name comes first. How sure it is that anything has happened follows from the whole deviation and the whole
 * breathing of the chamber. Which cause it is follows, where there was a quiet "before", from the step alone: what
 * temperature and gas loads had done earlier is no part of it.
 */
import type { Step } from './calm.ts';
import type { Variant } from './cause.ts';
import type { Frame } from './frame.ts';
import { type Candidate, type Naming, type NamingGround, nameChange } from './naming.ts';
import type { Lane } from './nullModel.ts';
import { isLetIn } from './processGas.ts';

export interface RankingInput {
  readonly change: Float64Array;
  readonly lane: Lane;
  readonly fall: boolean;
  readonly step: Step | null;
  /** The step itself has called: it is also what stands against nothing. */
  readonly byStep?: boolean;
}

/** With what the site has seen of its own, and what an analyser without a scale of its own can know. */
export const groundOf = (frame: Frame): NamingGround => ({
  ...frame,
  gasCauses: watchedHere(frame),
  ownCauses: isScaledByGauge(frame) ? withGaugeScale(frame.ownCauses) : frame.ownCauses,
  examples: frame.context.examples,
});

/** A gas that the state lets in is free to flow: as a name it would only lend its errors to what it does not explain. */
function watchedHere({ gasCauses, memory, baseline: { own } }: Frame): Frame['gasCauses'] {
  const total = own.reduce((sum, { pressurePa }) => sum + pressurePa, 0);
  const letIn = own.filter((gas) => isLetIn(gas, memory, total)).map(({ gas }) => gas);
  return letIn.length === 0 ? gasCauses : gasCauses.filter(({ single }) => single === null || !letIn.includes(single));
}

export const isScaledByGauge = ({ input }: Frame): boolean => input.scan.unit === '1';

/** As the gain: peaks that all move alike do so within 8 %. */
const ALIKE = 0.08;

/**
 * Shares that a gauge turns into pascal know no gain: when all of them rise alike the gauge has risen, and the pump is as
 * good a reason as a gauge that reads high. Each gets what the other may do, so that no spectrum decides between them.
 */
function withGaugeScale(causes: Frame['ownCauses']): Frame['ownCauses'] {
  const pump = causes.find(({ id }) => id === 'pumping');
  const gain = causes.find(({ id }) => id === 'gain-up');
  const up = gain?.variants[0]?.dense;
  if (!pump || !up) return causes;
  const moves = pump.variants[0]?.moves?.map(() => 0) ?? [];
  const alike: Variant = { dense: up, errors: up.map((height) => ALIKE * height), moves, prior: 0 };
  const all = pump.variants.filter((variant) => variant.pump === 'all');
  return causes.map((cause) => {
    if (cause === pump) return { ...cause, variants: [...cause.variants, { ...alike, pump: 'all' }] };
    if (cause !== gain) return cause;
    return { ...cause, spread: pump.spread, loose: pump.loose, variants: [alike, ...all] };
  });
}

export function nameBest(frame: Frame, { change, lane, fall, step, byStep = false }: RankingInput): Naming {
  const ground = groundOf(frame);
  const whole = nameChange(ground, change, { lane, fall });
  if (!step) return whole;
  const narrow = nameChange(ground, step.change, { lane, fall, breathing: step.breathing });
  const [best] = narrow.candidates;
  if (!best) return whole;
  // What stands against nothing is asked of the whole; a cause that the whole does not know has only its step.
  const known = new Map(whole.candidates.map((candidate) => [candidate.cause.id, candidate]));
  const evidence = (known.get(best.cause.id)?.score ?? Number.NEGATIVE_INFINITY) - whole.nothing;
  const candidates = narrow.candidates.map((candidate): Candidate => {
    const wide = known.get(candidate.cause.id);
    const amplitude = wide?.shape === candidate.shape ? wide.amplitude : candidate.amplitude;
    return { ...candidate, amplitude };
  });
  return { candidates, nothing: byStep ? narrow.nothing : best.score - evidence, change: whole.change };
}
