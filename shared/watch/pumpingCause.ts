/**
 * Pumps that take less. Which gases come back tells which pump it is:
 *
 *   all alike           a valve, a throttle, a backing line: every speed falls by one factor
 *   lightest first      a turbopump: compression falls as exp(k √M), so what comes back does as exp(−β (√M − √2))
 *   getter              CO and CO2, then N2, then H2; methane and noble gases were never taken
 *   cryopump            H2, He, Ne first, which only the sorbent holds; then what the second stage froze (N2, CO, O2, Ar,
 *                       part of the methane); water and CO2 stay on the first stage as long as that is cold
 *
 * Orders and ratios are common practice of vacuum work; amounts are relative movements per unit amplitude, where the
 * gas that moves most is 1.
 */
import type { PumpFamily, Variant } from './cause.ts';
import type { OwnSpectrum } from './ownGases.ts';
import { PATTERN_ERROR } from './parameters.ts';
import { basePeak, molarMass } from './patterns.ts';
import { makeRows, once } from './rows.ts';

/** β: half of hydrogen's loss is felt by water at 0.25 and by nothing above helium at 1.2. */
const LIGHT_FIRST = [0.12, 0.25, 0.4, 0.6, 0.8, 1, 1.2] as const;
/** The one that the lanes watch. */
const LIGHT_WATCHED = 0.4;

/** One free shape gains about half a nat by chance (χ² of one degree of freedom): less, since the grid is coarse. */
const SHAPE_PRIOR = -0.3;
/** Only some chambers have a capture pump, and fewer still have it dying (our judgement). */
const CAPTURE_PRIOR = -1.5;

const GETTER: readonly Readonly<Record<string, number>>[] = [
  { CO: 1, CO2: 0.8, N2: 0.5, H2: 0.25, H2O: 0.2, O2: 0.5 },
  { CO: 1, CO2: 1, N2: 1, H2: 0.6, H2O: 0.5, O2: 1 },
  { CO: 1, CO2: 1, N2: 1, H2: 1, H2O: 1, O2: 1 },
];
const CRYOPUMP: readonly Readonly<Record<string, number>>[] = [
  { H2: 1, He: 1 },
  { H2: 1, He: 1, N2: 0.4, CO: 0.4, O2: 0.4, Ar: 0.4, CH4: 0.3 },
  { H2: 1, He: 1, N2: 1, CO: 1, O2: 1, Ar: 1, CH4: 0.7 },
];

export interface Pumping {
  /** Only a naming asks for them: made when they are first asked for. */
  readonly variants: readonly Variant[];
  /** All alike, and lightest first. */
  readonly triggers: readonly Float64Array[];
}

/** From the chamber's own spectrum: a gas that it does not show cannot come back. */
export function pumping(spectra: readonly OwnSpectrum[], channels: number): Pumping {
  const row = makeRows(channels, 2);
  const variant: MakeVariant = (pump, prior, movement) => {
    const moves = spectra.map(({ own }) => movement(own.gas));
    const shape = { dense: blend(row(), spectra, moves), prior, pump, moves, gases: leaders(pump) };
    // What moves all alike leaves every share as it was.
    return pump === 'all' ? shape : { ...shape, errors: errorsOf(spectra, moves, channels) };
  };
  const all = variant('all', 0, () => 1);
  // The errors of a shape are asked for by a naming alone.
  const watched = spectra.map(({ own }) => lightFirst(own.gas, LIGHT_WATCHED));
  const light = blend(row(), spectra, watched);
  const shapes = once(() => shapesOf(all, spectra, variant));
  return {
    get variants() {
      return shapes();
    },
    triggers: [all.dense, light],
  };
}

/** As all pumps: peaks of a gas follow it within 12 %. */
const ALIKE = 0.12;
/** Of the gauge against a gas's peak: of a gas alone both may err. */
const GAUGE_ERROR = Math.SQRT2 * PATTERN_ERROR;
/** Of a peak this small it is not sure that it is the gas: the foot of a neighbour, isotopes and surface ions are as large. */
const SMALL_OF_GAS = 0.03;
const SMALL_OF_ALL = 0.003;
const SMALL_ERROR = 0.8;

/**
 * One-sigma errors of a shape that changes the mixture: the gauge counts every gas with its own factor, which errs as a
 * fragment does, so what it shows is no better known than that of the gas alone.
 */
function errorsOf(spectra: readonly OwnSpectrum[], moves: readonly number[], length: number): Float64Array {
  const square = new Float64Array(length);
  const bases = spectra.map(({ channels }) => basePeak(channels));
  const tallest = Math.max(0, ...bases);
  for (let i = 0; i < spectra.length; i++) {
    const { channels } = spectra[i]!;
    const isSmall = bases[i]! < SMALL_OF_ALL * tallest;
    for (let m = 0; m < length; m++) {
      const unsure = m > 0 && (isSmall || channels[m]! < SMALL_OF_GAS * bases[i]!);
      const share = m === 0 ? GAUGE_ERROR : unsure ? SMALL_ERROR : ALIKE;
      square[m]! += (share * channels[m]! * moves[i]!) ** 2;
    }
  }
  return square.map(Math.sqrt);
}

type MakeVariant = (pump: PumpFamily, prior: number, movement: (gas: string) => number) => Variant;

function shapesOf(all: Variant, spectra: readonly OwnSpectrum[], variant: MakeVariant): Variant[] {
  const light = LIGHT_FIRST.map((beta) => variant('light-first', SHAPE_PRIOR, (gas) => lightFirst(gas, beta)));
  const shown = new Set(spectra.map(({ own }) => own.gas));
  const captured = [
    // Without methane or argon there is no gas that a getter leaves, and nothing to tell it by.
    ...(shown.has('CH4') || shown.has('Ar') ? GETTER.map((shares) => ['getter', shares] as const) : []),
    ...CRYOPUMP.map((shares) => ['cryopump', shares] as const),
  ].filter(([, shares]) => isTellable(Object.keys(shares), shown));
  return [all, ...light, ...captured.map(([pump, shares]) => variant(pump, CAPTURE_PRIOR, (gas) => shares[gas] ?? 0))];
}

/** Hydrogen alone is hydrogen: the sorbent is blamed where helium comes with it, the second stage where a third gas does. */
const isTellable = (gases: readonly string[], shown: ReadonlySet<string>): boolean =>
  gases.filter((gas) => shown.has(gas)).length >= Math.min(3, gases.length);

const lightFirst = (gas: string, beta: number): number => Math.exp(-beta * (Math.sqrt(molarMass(gas)) - Math.SQRT2));

function leaders(pump: PumpFamily): readonly string[] {
  if (pump === 'all') return [];
  return pump === 'getter' ? ['CO', 'N2'] : ['H2', 'He'];
}

function blend(out: Float64Array, spectra: readonly OwnSpectrum[], moves: readonly number[]): Float64Array {
  for (let i = 0; i < spectra.length; i++) {
    const { channels } = spectra[i]!;
    for (let m = 0; m < out.length; m++) out[m]! += channels[m]! * moves[i]!;
  }
  return out;
}
