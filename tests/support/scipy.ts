/**
 * scipy as an outside authority: python3 with numpy and scipy solves what it is given.
 * Its version is printed with what is compared, since `nnls` was rewritten more than once (Fortran up to 1.11).
 */
import { execFileSync, spawnSync } from 'node:child_process';

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

/** The first on PATH may be another Python than the one that the system's package put scipy into. */
const PYTHONS = ['python3', '/usr/bin/python3'];

const hasScipy = (python: string): boolean =>
  spawnSync(python, ['-c', 'import scipy'], { stdio: 'ignore' }).status === 0;

let found: string | undefined;

/** @throws when no Python has scipy */
function python(): string {
  found ??= PYTHONS.find(hasScipy);
  if (found === undefined) throw new Error('No python3 with scipy (Debian: python3-scipy)');
  return found;
}

/** With `rounds` 0 the solutions come back, otherwise the processor time of as many rounds. Throws when scipy is missing. */
export function scipyNnls(problems: readonly DenseProblem[], rounds = 0): ScipyAnswer {
  return JSON.parse(
    execFileSync(python(), ['-c', SCRIPT], {
      input: JSON.stringify({ problems, rounds }),
      encoding: 'utf8',
      maxBuffer: 1 << 28,
      stdio: ['pipe', 'pipe', 'pipe'],
    }),
  ) as ScipyAnswer;
}

/** Version of scipy, or null when python3 or scipy is missing. */
export function scipyVersion(): string | null {
  try {
    return scipyNnls([]).version;
  } catch {
    return null;
  }
}
