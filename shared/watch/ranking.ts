/**
 * Which name comes first. How sure it is that anything has happened follows from the whole deviation and the whole
 * breathing of the chamber. Which cause it is follows, where there was a quiet "before", from the step alone: what
 * temperature and gas loads had done earlier is no part of it.
 */
import type { Step } from './calm.ts';
import type { Frame } from './frame.ts';
import { withKappa } from './kappaWitness.ts';
import { type Candidate, type Naming, type NamingGround, nameChange } from './naming.ts';
import type { Lane } from './nullModel.ts';
import { ownHere, shownBy } from './ownHere.ts';
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
  ownCauses: ownHere(frame),
  examples: frame.context.examples,
});

/** A gas that the state lets in is free to flow: as a name it would only lend its errors to what it does not explain. */
function watchedHere({ gasCauses, memory, baseline: { own } }: Frame): Frame['gasCauses'] {
  const total = own.reduce((sum, { pressurePa }) => sum + pressurePa, 0);
  const letIn = own.filter((gas) => isLetIn(gas, memory, total)).map(({ gas }) => gas);
  return letIn.length === 0 ? gasCauses : gasCauses.filter(({ single }) => single === null || !letIn.includes(single));
}

export function nameBest(frame: Frame, { change, lane, fall, step, byStep = false }: RankingInput): Naming {
  // What the gases of the background have done is asked of the step too: it holds less of what went before.
  const shown = shownBy(frame, step?.change ?? change);
  const ground = { ...groundOf(frame), ownCauses: shown.causes };
  const whole = withKappa(frame, nameChange(ground, change, { lane, fall }));
  if (!step) return named(whole, shown);
  const narrow = withKappa(frame, nameChange(ground, step.change, { lane, fall, breathing: step.breathing }));
  const [best] = narrow.candidates;
  if (!best) return named(whole, shown);
  // What stands against nothing is asked of the whole; a cause that the whole does not know has only its step.
  const known = new Map(whole.candidates.map((candidate) => [candidate.cause.id, candidate]));
  const evidence = (known.get(best.cause.id)?.score ?? Number.NEGATIVE_INFINITY) - whole.nothing;
  const candidates = narrow.candidates.map((candidate): Candidate => {
    const wide = known.get(candidate.cause.id);
    const amplitude = wide?.shape === candidate.shape ? wide.amplitude : candidate.amplitude;
    return { ...candidate, amplitude };
  });
  const nothing = byStep ? narrow.nothing : best.score - evidence;
  return named({ candidates, nothing, change: whole.change }, shown);
}

/** Causes of the background name only the gases that this change shows. */
function named(naming: Naming, { gasesOf }: ReturnType<typeof shownBy>): Naming {
  return {
    ...naming,
    candidates: naming.candidates.map((candidate) => {
      const gases = gasesOf(candidate);
      return gases === null ? candidate : { ...candidate, variant: { ...candidate.variant, gases } };
    }),
  };
}
