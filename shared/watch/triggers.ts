/**
 * The directions that the lanes watch, and how much of each is worth a call: 0.1 decade of what is usual of that gas,
 * or a small share of the whole spectrum for what is not there at all.
 */

import { isReady, totalOfMean } from './baseline.ts';
import type { Cause } from './cause.ts';
import type { Baseline, Memory } from './memory.ts';
import type { Lane } from './nullModel.ts';
import type { OwnCause } from './ownCauses.ts';
import type { OwnSpectrum } from './ownGases.ts';
import { ANALYSER_DEAD_BAND, DEAD_BAND, LEAST_SHARE } from './parameters.ts';
import { AIR } from './patterns.ts';
import type { Reference } from './reference.ts';
import { GAS_STATES } from './states.ts';
import { type Direction, direction } from './whitening.ts';

export interface Trigger {
  readonly key: string;
  /** Under which its counts are remembered, per lane. */
  readonly keys: Readonly<Record<Lane, string>>;
  readonly cause: Cause | OwnCause;
  readonly direction: Direction;
  /** Amplitude below which it is not worth a call. */
  readonly least: number;
  /** It follows from the chamber's own spectrum. */
  readonly own: boolean;
  readonly instrument: boolean;
  readonly twoSided: boolean;
}

const joined = new WeakMap<readonly Trigger[], string>();

/** The names of all, as one word to tell lists apart. */
export function keysOf(triggers: readonly Trigger[]): string {
  const known = joined.get(triggers);
  if (known !== undefined) return known;
  const keys = triggers.map(({ key }) => key).join();
  joined.set(triggers, keys);
  return keys;
}

/** From this clarity on the chamber's own pattern of a gas replaces the catalogue's. */
const OWN_CLARITY = 30;
const MASS_SHIFT_BAND = 0.2;
/** Pumping: 0.1 decade would be called at every warm day. */
const PUMPING_BAND = 0.3;
const OUTGASSING_BAND = 0.2;

export const isOwn = (cause: Cause | OwnCause): cause is OwnCause => 'instrument' in cause;

/** What this chamber has shown of a gas, where it has shown it well. */
function ownPattern(single: string | null, spectra: readonly OwnSpectrum[]): OwnSpectrum | undefined {
  if (single === null) return undefined;
  return spectra.find(({ own }) => own.gas === single && own.clarity > OWN_CLARITY && own.pressurePa > 0);
}

/** The catalogue's direction on this chamber: its own pattern where the gas is seen well, its own gauge otherwise. */
export function onChamber(
  dense: Float64Array,
  single: string | null,
  baseline: Baseline,
  spectra: readonly OwnSpectrum[],
) {
  const own = ownPattern(single, spectra);
  if (own) return own.channels.map((value) => value / own.own.pressurePa);
  if (baseline.kappa === 1) return dense;
  const out = dense.slice();
  out[0]! *= baseline.kappa;
  return out;
}

const scaled = new WeakMap<Float64Array, { kappa: number; direction: Direction }>();

/** `onChamber` as a direction; those of the catalogue are kept, since κ changes once in hundreds of scans. */
function directionOf(
  dense: Float64Array,
  single: string | null,
  baseline: Baseline,
  spectra: readonly OwnSpectrum[],
): Direction {
  if (ownPattern(single, spectra)) return direction(onChamber(dense, single, baseline, spectra));
  const known = scaled.get(dense);
  if (known?.kappa === baseline.kappa) return known.direction;
  const made = direction(onChamber(dense, null, baseline, spectra));
  scaled.set(dense, { kappa: baseline.kappa, direction: made });
  return made;
}

export function triggersOf(
  causes: readonly Cause[],
  owns: readonly OwnCause[],
  baseline: Baseline,
  { spectra }: Reference,
  total: number = totalOfMean(baseline),
): Trigger[] {
  const out: Trigger[] = [];
  for (const cause of [...causes, ...owns]) {
    if (isOwn(cause) && isAmbiguousFall(cause, baseline)) continue;
    cause.triggers.forEach((dense, i) => {
      const own = isOwn(cause);
      const key = `${cause.id}.${i}`;
      const seen = own
        ? direction(dense)
        : directionOf(dense, cause.triggerGases?.[i] ?? cause.single, baseline, spectra);
      const least = leastAmplitude(cause, seen.dense, baseline, total);
      out.push({
        key,
        keys: { scan: `${key}.scan`, mean: `${key}.mean`, day: `${key}.day` },
        cause,
        direction: seen,
        least,
        own,
        instrument: own && cause.instrument,
        twoSided: own && cause.twoSided,
      });
    });
  }
  return out;
}

/** Without a gauge a young chamber that dries looks like an analyser that loses gain: it gets a day. */
const SETTLED_DAYS = 1;
const isAmbiguousFall = ({ id }: OwnCause, { hasGauge, days }: Baseline): boolean =>
  !hasGauge && days < SETTLED_DAYS && (id === 'gain-down' || id === 'mass-shift');

export function leastAmplitude(
  cause: Cause | OwnCause,
  dense: Float64Array,
  baseline: Baseline,
  total: number,
): number {
  if (cause.id === 'pumping') return PUMPING_BAND;
  if (cause.id === 'outgassing') return OUTGASSING_BAND;
  if (cause.id === 'mass-shift') return MASS_SHIFT_BAND;
  // A loss of gain of 0.15 decade is a fall by less than a rise of 0.15 decade is a rise.
  if (cause.id === 'gain-down' || cause.id === 'gauge-down') return ANALYSER_DEAD_BAND / (1 + ANALYSER_DEAD_BAND);
  if (isOwn(cause)) return ANALYSER_DEAD_BAND;
  let largest = 0;
  for (let m = 1; m < dense.length; m++) if (dense[m]! > largest) largest = dense[m]!;
  const usual = usualOf(cause, dense, baseline);
  if (cause.id === 'air') return DEAD_BAND * usual;
  const share = PERMANENT.has(cause.id) ? 0 : (LEAST_SHARE * total) / Math.max(largest, 1e-300);
  return Math.max(DEAD_BAND * usual, share);
}

/**
 * Whole spectrum that a contaminant is measured by: what the chamber has at rest. Against hundred times as much process gas
 * the same trace would be nothing.
 */
export function backgroundTotal({ baselines, state }: Memory, baseline: Baseline): number {
  const total = totalOfMean(baseline);
  const { base } = baselines;
  return GAS_STATES.has(state) && isReady(base) && base.scaled === baseline.scaled
    ? Math.min(total, totalOfMean(base))
    : total;
}

/** Gases of air are wanted even where they are far below everything else. */
const PERMANENT = new Set(['He', 'Ar', 'O2', 'N2']);

function usualOf(cause: Cause, dense: Float64Array, { own, masses }: Baseline): number {
  const pressure = (gas: string) => own.find((entry) => entry.gas === gas)?.pressurePa ?? 0;
  switch (cause.id) {
    case 'air': {
      const oxygen = (dense[masses.indexOf(32) + 1] ?? 0) > 0.01 ? pressure('O2') / AIR.O2 : Number.POSITIVE_INFINITY;
      return Math.min(pressure('N2') / AIR.N2, pressure('Ar') / AIR.Ar, oxygen);
    }
    case 'COx': {
      const dioxide = (dense[masses.indexOf(44) + 1] ?? 0) > (dense[masses.indexOf(28) + 1] ?? 0);
      return dioxide ? pressure('CO2') : pressure('CO') + pressure('N2');
    }
    case 'N2':
      return pressure('N2') + 0.3 * pressure('CO');
    case 'hydrocarbon-oil':
      return 0.3 * pressure('heptane');
    default:
      return pressure(cause.id);
  }
}
