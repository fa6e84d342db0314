/**
 * How good the partial pressures are, on simulated scans with known truth by a generator of its own (accuracyWorld.ts,
 * accuracySpectrum.ts), beside plain unweighted least squares and the single-peak method (accuracyRivals.ts).
 *
 * Bias and spread in decades (median, and half of the middle 68 %, of log10(estimate / truth)) over the cases in which
 * the gas was detected; the rivals over the same cases. Covered: the 95 % interval holds the truth. Limit holds: the
 * upper limit of a gas that is there and not seen lies above it. One scan per analyser, so scans are independent.
 * A list that can be had again: BENCH_SEED=… BENCH_ANALYSERS=… (per scene).
 */
import { makeAnalyser } from '../../shared/analysis/analyse.ts';
import { GASES } from '../../shared/catalogue/gases.ts';
import { catalogueFor } from '../../shared/catalogue/select.ts';
import { seededRandom } from '../support/instrument.ts';
import { rivals } from './accuracyRivals.ts';
import { RESIDUES, SCENES, type Scene } from './accuracyScenes.ts';
import { longSeries, SERIES_SCANS, seriesLine } from './accuracySeries.ts';
import { FORMS, type Form, record, settle } from './accuracySpectrum.ts';
import { count, freshTally, HEAD, phantomLine, row, type Tally, tallyRow } from './accuracyTally.ts';
import { makeWorld } from './accuracyWorld.ts';

const SEED = Number(process.env.BENCH_SEED ?? 2607);
const ANALYSERS = Number(process.env.BENCH_ANALYSERS ?? 300);
const SCENE_NAMES = Object.keys(SCENES) as Scene[];
const FORM_NAMES = Object.keys(FORMS) as Form[];
const PRINCIPLES = ['quadrupole', 'ion trap'] as const;
const COVERED_GOAL = [90, 98] as const;
const LIMIT_GOAL = 95;
const PHANTOM_GOAL = 0.2;
/** Fewer cases than this are not judged. */
const ENOUGH = 30;

const DEFAULT = catalogueFor([]);
const WITH_RESIDUES = catalogueFor([...RESIDUES, 'NO', 'N2O', 'HF', 'C2H2', 'Kr', 'Xe']);

interface Course {
  readonly scene: Scene;
  readonly form: Form;
  readonly principle: (typeof PRINCIPLES)[number];
  readonly analysers: number;
  readonly seed: number;
}

function run({ scene, form, principle, analysers, seed }: Course, tallies: readonly ((gas: string) => Tally)[]): void {
  const random = seededRandom(seed);
  const catalogue = scene === 'process residue' ? WITH_RESIDUES : DEFAULT;
  for (let i = 0; i < analysers; i++) {
    const world = makeWorld(random, GASES, principle);
    const chamber = SCENES[scene](random);
    const setting = settle({ random, world, chamber });
    const { scan, calibration, truth } = record({ random, world, chamber, form, setting });
    const { peaks, analysis } = makeAnalyser(calibration, catalogue).analyse(scan);
    const { background } = calibration;
    const scaleToPa = scan.unit === '1' ? scan.totalPressurePa : null;
    count(tallies, { truth, analysis, ...rivals({ peaks, catalogue, background, scaleToPa }) });
  }
}

const byName = (map: Map<string, Tally>) => (name: string) => {
  const tally = map.get(name) ?? freshTally();
  map.set(name, tally);
  return tally;
};

/** A goal counts as missed when chance alone would not explain it: two standard deviations of a count. */
const chance = (goalPercent: number, cases: number): number =>
  2 * Math.sqrt((goalPercent * (100 - goalPercent)) / Math.max(1, cases));

const misses: string[] = [];
function judge(where: string, tally: Tally): void {
  const { detected, undetected, absent } = tally;
  const covered = (100 * tally.covered) / detected;
  const [low, high] = COVERED_GOAL;
  if (detected >= ENOUGH && (covered < low - chance(low, detected) || covered > high + chance(high, detected)))
    misses.push(`${where}: covered ${covered.toFixed(1)} % of ${detected}`);
  const holds = (100 * tally.limitHolds) / undetected;
  if (undetected >= ENOUGH && holds < LIMIT_GOAL - chance(LIMIT_GOAL, undetected))
    misses.push(`${where}: limit holds in ${holds.toFixed(1)} % of ${undetected}`);
  const phantoms = (100 * tally.phantoms) / absent;
  if (absent >= 10 * ENOUGH && phantoms > PHANTOM_GOAL + chance(PHANTOM_GOAL, absent))
    misses.push(`${where}: phantom in ${phantoms.toFixed(2)} % of ${absent}`);
}

function perScene(): void {
  const everything = freshTally();
  const everyGas = new Map<string, Tally>();
  SCENE_NAMES.forEach((scene, i) => {
    const seed = SEED + i;
    const gases = new Map<string, Tally>();
    const pooled = freshTally();
    run({ scene, form: 'bars', principle: 'quadrupole', analysers: ANALYSERS, seed }, [
      byName(gases),
      byName(everyGas),
      () => pooled,
      () => everything,
    ]);
    const candidates = scene === 'process residue' ? WITH_RESIDUES : DEFAULT;
    console.log(
      `\n${scene} (bars, quadrupole, ${ANALYSERS} analysers, ${candidates.gases.length} candidates, seed ${seed})`,
    );
    console.log(HEAD);
    for (const [gas, tally] of gases) {
      if (tally.present > 0) console.log(tallyRow(gas, tally));
      judge(`${scene}, ${gas}`, tally);
    }
    console.log(tallyRow('all', pooled));
    console.log(phantomLine(pooled));
    judge(scene, pooled);
  });
  console.log(`\nall scenes, per gas\n${HEAD}`);
  for (const [gas, tally] of everyGas) {
    if (tally.present > 0) console.log(tallyRow(gas, tally));
    judge(`all scenes, ${gas}`, tally);
  }
  console.log(tallyRow('all', everything));
  console.log(phantomLine(everything));
}

function perForm(): void {
  const analysers = Math.ceil(ANALYSERS / 4);
  console.log(
    `\nforms and principles, all scenes together (${analysers} analysers each, seeds from ${SEED + 100})\n${HEAD}`,
  );
  let seed = SEED + 100;
  for (const principle of PRINCIPLES) {
    for (const form of FORM_NAMES) {
      const tally = freshTally();
      for (const scene of SCENE_NAMES) run({ scene, form, principle, analysers, seed: seed++ }, [() => tally]);
      const name = `${principle}, ${form}`;
      console.log(`${name}\n${tallyRow('', tally)}\n  ${phantomLine(tally)}`);
      judge(name, tally);
    }
  }
}

/** The same analyser again and again: a wrong pattern that makes the same phantom for ever, and whether it is noticed. */
function perAnalyser(): void {
  const analysers = Math.ceil(ANALYSERS / 10);
  console.log(
    `\n${SERIES_SCANS} scans each of ${analysers} analysers per scene (bars, quadrupole, seed ${SEED + 200})`,
  );
  SCENE_NAMES.forEach((scene, i) => {
    const random = seededRandom(SEED + 200 + i);
    const catalogue = scene === 'process residue' ? WITH_RESIDUES : DEFAULT;
    console.log(seriesLine(scene, longSeries({ random, scene, catalogue, analysers })));
  });
}

const began = performance.now();
perScene();
perForm();
perAnalyser();
console.log(
  `\nGoals: covered ${COVERED_GOAL.join('–')} %, limit holds ≥ ${LIMIT_GOAL} %, phantoms ≤ ${PHANTOM_GOAL} % (rows of ${ENOUGH} cases or more)`,
);
console.log(misses.length === 0 ? 'met everywhere' : `missed in ${misses.length} rows:\n  ${misses.join('\n  ')}`);
console.log(row([`${((performance.now() - began) / 1000).toFixed(0)} s`]));
