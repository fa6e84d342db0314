/**
 * scipy as an outside authority: python3 with numpy and scipy solves what it is given.
 * Its version is printed with what is compared, since `nnls` was rewritten more than once (Fortran up to 1.11).
 * Answers are checked with whatever is there; speed is compared with the Fortran one where a machine has it.
 */
import { execFileSync } from 'node:child_process';

const SCRIPT = `
import json, sys, time
import numpy as np, scipy
from scipy.optimize import nnls
work = json.load(sys.stdin)
out = {"version": scipy.__version__, "solutions": [], "microseconds": []}
problems = [(np.array(p["matrix"]), np.array(p["target"])) for p in work["problems"]]
if not work["problems"]: pass
elif work["rounds"] == 0:
    for A, b in problems: out["solutions"].append(nnls(A, b, maxiter=50 * A.shape[1])[0].tolist())
else:
    for A, b in problems: nnls(A, b, maxiter=50 * A.shape[1])
    for _ in range(work["rounds"]):
        start = time.process_time()
        for A, b in problems: nnls(A, b, maxiter=50 * A.shape[1])
        out["microseconds"].append(1e6 * (time.process_time() - start) / len(problems))
print(json.dumps(out))
`;

/** One thread, as ours: linear algebra libraries would take every core. */
const ONE_THREAD = { OPENBLAS_NUM_THREADS: '1', OMP_NUM_THREADS: '1', MKL_NUM_THREADS: '1' };

export interface DenseProblem {
  /** Rows of the (weighted) matrix. */
  readonly matrix: readonly (readonly number[])[];
  readonly target: readonly number[];
}

export interface ScipyAnswer {
  readonly version: string;
  readonly solutions: readonly (readonly number[])[];
  /** Per problem, one figure per round. */
  readonly microseconds: readonly number[];
}

export interface Scipy {
  readonly python: string;
  readonly version: string;
}

/** The first on PATH may be another Python than the one that the system's package put scipy into. */
const PYTHONS = ['python3', '/usr/bin/python3'];

/** The last release line whose `nnls` is compiled Fortran and that Debian 12 ships. */
const FORTRAN = '1.10.';

function ask(python: string, problems: readonly DenseProblem[], rounds: number): ScipyAnswer {
  return JSON.parse(
    execFileSync(python, ['-c', SCRIPT], {
      input: JSON.stringify({ problems, rounds }),
      encoding: 'utf8',
      maxBuffer: 1 << 28,
      stdio: ['pipe', 'pipe', 'pipe'],
      env: { ...process.env, ...ONE_THREAD },
    }),
  ) as ScipyAnswer;
}

let found: readonly Scipy[] | undefined;

/** Every Python with scipy that is here, the one whose speed is compared first; empty when there is none. */
export function scipys(): readonly Scipy[] {
  found ??= PYTHONS.flatMap((python): Scipy[] => {
    try {
      return [{ python, version: ask(python, [], 0).version }];
    } catch {
      return [];
    }
  })
    .filter(({ version }, i, all) => all.findIndex((other) => other.version === version) === i)
    .sort((a, b) => Number(b.version.startsWith(FORTRAN)) - Number(a.version.startsWith(FORTRAN)));
  return found;
}

/**
 * With `rounds` 0 the solutions come back, otherwise the processor time of as many rounds.
 * @throws when scipy is missing
 */
export function scipyNnls(problems: readonly DenseProblem[], rounds = 0, scipy = scipys()[0]): ScipyAnswer {
  if (scipy === undefined) throw new Error('No python3 with scipy (Debian: python3-scipy)');
  return ask(scipy.python, problems, rounds);
}

/** Version of scipy, or null when python3 or scipy is missing. */
export const scipyVersion = (): string | null => scipys()[0]?.version ?? null;
