/**
 * The solver against scipy.optimize.nnls, the whole analysis of a scan, and the peaks of a profile against a pass that
 * only adds its points up: ratios of medians, measured alternately in one run, in processor time.
 *
 * scipy solves the weighted dense problem that it is handed; ours also puts the weights in. Both get all candidate
 * gases of a wide list and the artefacts of a quadrupole, m/z 1 to 100 (without the free zero, which scipy's function
 * does not know). `steady` is one chamber that drifts by a few per cent from scan to scan, started from the last
 * answer; `changing` takes the next scan from another kind of chamber each time, started cold.
 */
import { makeAnalyser } from '../../shared/analysis/analyse.ts';
import { artefacts } from '../../shared/analysis/artefacts.ts';
import { gasColumns } from '../../shared/analysis/columns.ts';
import { joinColumns } from '../../shared/analysis/design.ts';
import { planAssembly } from '../../shared/analysis/normalEquations.ts';
import { profileHeights } from '../../shared/analysis/profile.ts';
import { median } from '../../shared/analysis/robust.ts';
import { makeSpectrumSolver } from '../../shared/analysis/spectrumSolver.ts';
import type { AnalysisScan } from '../../shared/analysis/types.ts';
import { GASES } from '../../shared/catalogue/gases.ts';
import { catalogueFor } from '../../shared/catalogue/select.ts';
import { KINDS, type Kind } from '../support/compositions.ts';
import { makeSimulatedAnalyser, type ScanSettings, seededRandom, simulateScan } from '../support/instrument.ts';
import { type DenseProblem, type Scipy, scipyNnls, scipys } from '../support/scipy.ts';

/** Times faster than scipy 1.10; the peaks of a profile in so many passes over its points. */
const STEADY_GOAL = 12;
const CHANGING_GOAL = 8;
const PEAKS_GOAL = 12;
const SCANS = 120;
const ROUNDS = 7;
const MASSES = Array.from({ length: 100 }, (_, i) => i + 1);
// biome-ignore format: an order reads best in lines
const OWN = ['HF', 'HCN', 'NO', 'SiH4', 'PH3', 'N2O', 'acetonitrile', 'Cl2', 'NF3', 'CF4', 'CHF3', 'C2F6', 'SF6', 'SiF4',
  'Kr', 'Xe', 'CH2O'];
const WIDE = catalogueFor(OWN);
const KIND_NAMES = Object.keys(KINDS) as Kind[];

const random = seededRandom(2024);
const design = joinColumns(
  MASSES,
  gasColumns(WIDE, MASSES).columns,
  artefacts(MASSES, 'quadrupole').filter((artefact) => !artefact.free),
);
const size = design.columns.length;

interface Work {
  readonly heights: Float64Array;
  readonly variance: Float64Array;
}

function workOf(scan: AnalysisScan, noise: number): Work {
  const heights = scan.values;
  return { heights, variance: heights.map((height) => noise ** 2 + (0.1 * Math.max(0, height)) ** 2) };
}

const SETTINGS: ScanSettings = { unit: 'Pa', masses: { first: 1, last: 100, perUnit: 1 }, range: 1e5, ions: 1e7 };

function steadyWork(): Work[] {
  const analyser = makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.2, sensitivitySpread: 0.2 });
  const truth: Record<string, number> = { ...KINDS.oil(random), acetone: 0.01, C2H6: 0.01 };
  return Array.from({ length: SCANS }, () => {
    for (const gas of Object.keys(truth)) truth[gas]! *= Math.exp(0.02 * random.normal());
    const { scan, readNoisePa } = simulateScan(random, analyser, truth, SETTINGS);
    return workOf(scan, readNoisePa);
  });
}

function changingWork(): Work[] {
  return Array.from({ length: SCANS }, (_, i) => {
    const analyser = makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.2, sensitivitySpread: 0.2 });
    const { scan, readNoisePa } = simulateScan(random, analyser, KINDS[KIND_NAMES[i % 6]!](random), SETTINGS);
    return workOf(scan, readNoisePa);
  });
}

function denseOf({ heights, variance }: Work): DenseProblem {
  const matrix = MASSES.map((_, row) => {
    const line = new Array<number>(size).fill(0);
    for (let e = design.rowStart[row]!; e < design.rowStart[row + 1]!; e++) {
      line[design.entryColumn[e]!] = design.entryResponse[e]! / Math.sqrt(variance[row]!);
    }
    return line;
  });
  return { matrix, target: Array.from(heights, (height, row) => height / Math.sqrt(variance[row]!)) };
}

const plan = planAssembly(
  design,
  Int32Array.from({ length: size }, (_, i) => i),
);
const solver = makeSpectrumSolver(size);
const passive = new Uint8Array(size);
const solution = new Float64Array(size);

function solve(work: Work, warm: boolean): void {
  solver.solve(plan, work, solution, { passive, warm });
}

/** Microseconds of processor time per item: what else runs on the machine counts less than on the clock. */
function time<T>(items: readonly T[], use: (item: T) => void): number {
  const begin = process.cpuUsage();
  let passes = 0;
  let elapsed = 0;
  do {
    for (const item of items) use(item);
    passes++;
    const { user, system } = process.cpuUsage(begin);
    elapsed = user + system;
  } while (elapsed < 40_000);
  return elapsed / passes / items.length;
}

const line = (name: string, ...cells: (string | number)[]) =>
  console.log(name.padEnd(34), ...cells.map((cell) => String(cell).padStart(14)));
const digits = (value: number) => value.toPrecision(3);

/** Largest difference of an element, relative to it or to 1e-7 of the largest. */
function worstElement(works: readonly Work[], problems: readonly DenseProblem[], scipy: Scipy): number {
  const { solutions } = scipyNnls(problems, 0, scipy);
  let worst = 0;
  works.forEach((work, i) => {
    solve(work, false);
    const largest = Math.max(...solutions[i]!);
    solutions[i]!.forEach((value, j) => {
      worst = Math.max(worst, Math.abs(solution[j]! - value) / Math.max(value, 1e-7 * largest));
    });
  });
  return worst;
}

interface Race {
  readonly name: string;
  readonly works: readonly Work[];
  readonly warm: boolean;
  readonly goal: number;
}

function againstScipy({ name, works, warm, goal }: Race, scipy: Scipy): void {
  const problems = works.map(denseOf);
  const worst = worstElement(works, problems, scipy);
  for (let i = 0; i < 20; i++) for (const work of works) solve(work, warm);
  const ours: number[] = [];
  const theirs: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    ours.push(time(works, (work) => solve(work, warm)));
    theirs.push(median(scipyNnls(problems, 3, scipy).microseconds));
  }
  const ratio = median(theirs) / median(ours);
  const verdict = ratio >= goal ? `goal ${goal} x met` : `GOAL ${goal} x NOT MET`;
  line(name, digits(median(ours)), digits(median(theirs)), `${digits(ratio)} x`, worst.toExponential(1), verdict);
}

function wholeAnalysis(): void {
  const simulate = (settings: ScanSettings) =>
    Array.from({ length: 60 }, (_, i) => {
      const analyser = makeSimulatedAnalyser(random, GASES, { fragmentSpread: 0.2, sensitivitySpread: 0.2 });
      return simulateScan(random, analyser, KINDS[KIND_NAMES[i % 6]!](random), settings);
    });
  const profile = { first: 1, last: 90.96, perUnit: 24 };
  for (const [name, settings] of [
    ['bars, m/z 1 to 100', SETTINGS],
    ['profile, 2,160 points', { ...SETTINGS, masses: profile }],
  ] as const) {
    const scans = simulate(settings);
    const analyser = makeAnalyser(scans[0]!.calibration, catalogueFor([]));
    for (const { scan } of scans) analyser.analyse(scan);
    const each = Array.from({ length: ROUNDS }, () => time(scans, ({ scan }) => analyser.analyse(scan)));
    line(`whole analysis, ${name}`, digits(median(each)));
  }
  const points = simulate({ ...SETTINGS, masses: profile }).map(({ scan }) => scan.values);
  let sink = 0;
  const peaks: number[] = [];
  const sums: number[] = [];
  const onePass = (values: Float64Array) => {
    let sum = 0;
    for (let i = 0; i < values.length; i++) sum += values[i]!;
    sink += sum;
  };
  const read = (values: Float64Array) => {
    sink += profileHeights({ first: 1, perUnit: 24, values }).heights[0]!;
  };
  for (let round = 0; round < ROUNDS; round++) {
    peaks.push(time(points, read));
    sums.push(time(points, onePass));
  }
  const passes = median(peaks) / median(sums);
  const verdict = passes <= PEAKS_GOAL ? `goal ${PEAKS_GOAL} x met` : `GOAL ${PEAKS_GOAL} x NOT MET`;
  line('peaks of the profile', digits(median(peaks)), digits(median(sums)), `${digits(passes)} x`, '', verdict);
  if (Number.isNaN(sink)) throw new Error('a profile gave no number');
}

const found = scipys();
line('microseconds', 'ours', 'anchor', 'ratio', 'worst element');
if (found.length === 0) {
  console.log('SKIPPED: python3 with scipy is missing, so the solver was not compared (Debian: python3-scipy).');
}
const steady = { name: `solve, steady, ${size} columns`, works: steadyWork(), warm: true, goal: STEADY_GOAL };
const changing = { name: `solve, changing, ${size} columns`, works: changingWork(), warm: false, goal: CHANGING_GOAL };
for (const scipy of found) {
  const aside = scipy === found[0] ? 'one thread' : 'one thread; another nnls, shown beside it';
  console.log(`scipy ${scipy.version}, ${aside}`);
  againstScipy(steady, scipy);
  againstScipy(changing, scipy);
}
console.log('without scipy');
wholeAnalysis();
