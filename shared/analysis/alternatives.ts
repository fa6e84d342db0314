import { choose, covarianceOf, evidenceQuestion, type FitState, reweight, writeResidual } from './fitState.ts';
import { scoreOf } from './score.ts';

/**
 * Which gases would explain the scan as well as one that was taken in.
 *
 * The gas is left out, the rest fitted again, and every gas outside tested: the square of its evidence z² is what taking
 * it in would take off chi square. Another gas is an alternative when it has evidence of its own and comes within nine
 * (three standard deviations) of the gas that was chosen; or within 15 % of its evidence, when less than
 * half of the peaks that the chosen one is named by were measured.
 */
export interface Alternative {
  readonly column: number;
  /** Columns that would do as well, best first. */
  readonly others: readonly number[];
  /** So few of its main peaks were measured that its name is a guess: it does not count as detected. */
  readonly guessed: boolean;
}

const AS_GOOD = 9;
/** … and then this share of the evidence is nearly as good. */
const NEARLY_AS_GOOD = 0.85;
/** Fewer of its main peaks, and a gas's name is a guess. */
const NAMED_BY = 0.5;
const REWEIGHTINGS = 2;
/** More names than this help nobody. */
const MOST_NAMED = 3;

/** Leaves the state changed: to be asked after everything else was read from it. */
export function alternativesOf(
  state: FitState,
  included: readonly number[],
  j: number,
  leastEvidence: number,
): Alternative {
  const rest = included.filter((column) => column !== j);
  const amounts = state.amounts.slice();
  const positive = state.positive.slice();
  state.amounts[j] = 0;
  state.positive[j] = 0;
  choose(state, rest);
  reweight(state, REWEIGHTINGS);
  writeResidual(state);
  const question = evidenceQuestion(state, covarianceOf(state, false).length);
  const own = scoreOf(j, question).z;
  const unsure = state.design.columns[j]!.seenShare < NAMED_BY;
  const others: { column: number; z: number }[] = [];
  for (let column = 0; column < state.design.gasCount; column++) {
    if (column === j || included.includes(column)) continue;
    const { z } = scoreOf(column, question);
    if (z >= leastEvidence && (z * z > own * own - AS_GOOD || (unsure && z > NEARLY_AS_GOOD * own)))
      others.push({ column, z });
  }
  state.amounts.set(amounts);
  state.positive.set(positive);
  others.sort((a, b) => b.z - a.z);
  return { column: j, others: others.slice(0, MOST_NAMED).map(({ column }) => column), guessed: unsure };
}
