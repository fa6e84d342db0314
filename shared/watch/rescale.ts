/**
 * The same chamber read on another scale: everything that is remembered in the height of a peak is multiplied by what
 * the scale has moved by, mass by mass, so that nothing has to be learned anew.
 */
import { meanPattern } from '../analysis/pattern.ts';
import { totalOfMean } from './baseline.ts';
import type { Baseline, GasWindow, Memory, Settling, Standing, Vector } from './memory.ts';
import { shareOut } from './ownGases.ts';
import { catalogueGas } from './patterns.ts';
import { rescaledNoise } from './scanNoise.ts';
import type { StateBook } from './stateMemory.ts';

type FactorAt = (mass: number) => number;

/** Channel 0 is the gauge, which has a scale of its own. */
const factorsOn = (masses: Vector, factorAt: FactorAt): Float64Array =>
  Float64Array.from({ length: masses.length + 1 }, (_, m) => (m === 0 ? 1 : factorAt(masses[m - 1]!)));

/** −1e300 stands for what was not measured. */
const NOT_MEASURED = -1e299;
const times = (vector: Vector, factors: Float64Array, power = 1): number[] =>
  vector.map((value, m) => (value < NOT_MEASURED ? value : value * factors[m]! ** power));

export function rescaleBaseline(baseline: Baseline, factorAt: FactorAt): void {
  const factors = factorsOn(baseline.masses, factorAt);
  const { pinned, day } = baseline;
  baseline.first = baseline.first?.map((scan) => times(scan, factors)) ?? null;
  delete baseline.firstNoisesPa;
  baseline.mean = times(baseline.mean, factors);
  baseline.variance = times(baseline.variance, factors, 2);
  const noise = rescaledNoise(baseline.noise, (variance) => times(variance, factors, 2));
  if (noise) baseline.noise = noise;
  baseline.pinned = pinned && { ...pinned, mean: times(pinned.mean, factors) };
  baseline.day = day && { ...day, sum: times(day.sum, factors) };
  for (const [detector, book] of Object.entries(baseline.detectors)) {
    baseline.detectors[detector] = { ...book, variance: book.variance && times(book.variance, factors, 2) };
  }
  baseline.gases = Object.fromEntries(
    Object.entries(baseline.gases).map(([gas, window]) => [gas, shifted(window, factorAt(baseMassOf(gas)))]),
  );
  if (baseline.first === null) shareOut(baseline);
}

/** A gas follows its base peak. */
function baseMassOf(gas: string): number {
  const known = catalogueGas(gas);
  return known ? meanPattern(known).baseMass : 28;
}

function shifted(window: GasWindow, factor: number): GasWindow {
  const by = Math.round(1000 * Math.log10(factor));
  return { ...window, values: window.values.map((value) => value + by), middle: window.middle + by };
}

/** All that is remembered: of every state, and of what is going on in this one. */
export function rescaleMemory(memory: Memory, factorAt: FactorAt): void {
  const current = memory.baselines[memory.state];
  const before = current?.first === null ? totalOfMean(current) : 0;
  for (const baseline of Object.values(memory.baselines)) rescaleBaseline(baseline, factorAt);
  memory.visit = visitTimes(memory.visit, factorAt);
  const { habit, recipes, letIn, episodes } = memory.states;
  memory.states = {
    ...memory.states,
    habit: visitTimes(habit, factorAt),
    recipes: recipesTimes(recipes, factorAt),
    episodes: episodesTimes(episodes, factorAt),
    letIn: letIn.map((one) => ({ ...one, excess: times(one.excess, factorsOn(one.masses, factorAt)) })),
  };
  if (current) rescaleCurrent(memory, current.masses, factorAt);
  for (const [state, { masses }] of Object.entries(memory.baselines)) {
    if (state === memory.state) continue;
    rescaleStanding(memory, factorsOn(masses, factorAt), (standing) => standing.state === state);
  }
  memory.estimates = [];
  const sum = current?.first === null ? totalOfMean(current) / before : factorAt(28);
  if (sum > 0) rescaleKappa(memory, 1 / sum);
}

const recipesTimes = (recipes: StateBook['recipes'], factorAt: FactorAt): StateBook['recipes'] =>
  Object.fromEntries(
    Object.entries(recipes).map(([state, list]) => [
      state,
      list.map((recipe) => {
        const baseline = structuredClone(recipe.baseline);
        rescaleBaseline(baseline, factorAt);
        return { ...recipe, baseline };
      }),
    ]),
  );

function episodesTimes(episodes: StateBook['episodes'], factorAt: FactorAt): StateBook['episodes'] {
  const scaled = <T extends { masses: Vector; excess: Vector }>(one: T): T => ({
    ...one,
    excess: times(one.excess, factorsOn(one.masses, factorAt)),
  });
  const { running, shapes } = episodes;
  return {
    ...episodes,
    running: running?.shape ? { ...running, shape: scaled(running.shape) } : running,
    ...(shapes && { shapes: shapes.map(scaled) }),
  };
}

const visitTimes = <T extends { masses: Vector; highest: Vector }>(visit: T | null, factorAt: FactorAt): T | null =>
  visit && { ...visit, highest: times(visit.highest, factorsOn(visit.masses, factorAt)) };

/** What runs over the channels of the present baseline; what does not is of another one, and goes. */
export function rescaleCurrent(memory: Memory, masses: Vector, factorAt: FactorAt): void {
  const factors = factorsOn(masses, factorAt);
  const { track, quality, instrument } = memory;
  const size = factors.length;
  const list = (vectors: readonly Vector[]) =>
    vectors.filter(({ length }) => length === size).map((vector) => times(vector, factors));
  memory.track = {
    ...track,
    recent: list(track.recent),
    mean: track.mean?.sum.length === size ? { ...track.mean, sum: times(track.mean.sum, factors) } : null,
    argon: { ...track.argon, amplitudes: [] },
  };
  // A highest peak of another scale is none to compare with.
  memory.quality = { ...quality, lastTwo: list(quality.lastTwo), top: 0, topRepeats: 0 };
  if (instrument.aside) instrument.aside = { ...instrument.aside, lastTwo: list(instrument.aside.lastTwo) };
  memory.settling = settlingTimes(memory.settling, factors);
  memory.carried = settlingTimes(memory.carried, factors);
  rescaleStanding(memory, factors, ({ state }) => state === memory.state);
}

/** Amplitude and shape multiply: it is enough that the shape is carried. */
function rescaleStanding(memory: Memory, factors: Float64Array, which: (standing: Standing) => boolean): void {
  memory.standing = memory.standing.map((standing) => {
    const { direction, observed } = standing;
    if (direction?.length !== factors.length || !which(standing)) return standing;
    return { ...standing, direction: times(direction, factors), observed: observed && times(observed, factors) };
  });
}

function settlingTimes(settling: Settling | null, factors: Float64Array): Settling | null {
  if (settling === null || settling.envelope.length !== factors.length) return null;
  const { envelope, granted, room, start, direction, recent, letIn, began, under } = settling;
  return {
    ...settling,
    envelope: times(envelope, factors),
    granted: times(granted, factors),
    ...(room && { room: times(room, factors) }),
    start: times(start, factors),
    direction: times(direction, factors),
    recent: recent.map((row) => times(row, factors)),
    letIn: letIn && times(letIn, factors),
    ...(began && { began: { ...began, excess: times(began.excess, factors) } }),
    under: settlingTimes(under, factors),
  };
}

/** κ is the gauge over the gases: it moves against them. */
export function rescaleKappa({ impossible, instrument }: Memory, factor: number): void {
  const times = (kappa: number | null) => (kappa === null ? null : kappa * factor);
  impossible.kappa = times(impossible.kappa);
  if (impossible.others)
    impossible.others = Object.fromEntries(
      Object.entries(impossible.others).map(([state, book]) => [state, { ...book, kappa: times(book.kappa) }]),
    );
  const { kappa } = instrument;
  const by = Math.log(factor);
  const move = <T extends { kappa: number; sum: number }>(book: T, weight: number): T => ({
    ...book,
    kappa: book.kappa + by * weight,
    sum: book.sum - by * weight,
  });
  if (kappa.usual) kappa.usual = move(kappa.usual, 1);
  kappa.now = move(kappa.now, kappa.now.weight);
  kappa.local += by;
}
