import type { Column } from './columns.ts';
import { FRAGMENT_ERROR } from './fragments.ts';

/**
 * Signals of the analyser itself, fitted beside the gases so that they are not taken for one.
 *
 * - The foot of the zero-mass peak: a quadrupole passes every ion near mass 0 and its tail lifts m/z 1–5. Two shapes,
 *   e^(−(m−1)/0.5) and e^(−(m−1)/1.3), span what was tried; with one alone helium was falsely seen in 3 % of simulated
 *   scans, with none in a third.
 * - Ions that electrons knock off surfaces arrive without a parent gas: O⁺ at 16, F⁺ at 19, Cl⁺ at 35 and 37
 *   (J. W. Coburn, Surf. Sci. 11 (1968) 61). Chlorine is 0.7576 of 35 and 0.2424 of 37 (isotopic compositions, IUPAC
 *   2009): its two peaks are as sure as the transmission between them.
 * - A zero that is not at zero: the same amount on every mass, of either sign.
 * An ion trap has neither foot nor such ions: only the zero.
 */
export const FOOT_DECAY_U = [0.5, 1.3] as const;
const FOOT_MASSES = [1, 2, 3, 4, 5];
const CHLORINE_RATIO = 0.2424 / 0.7576;
const CHLORINE_RATIO_ERROR = 0.03;
/** Masses at which hardly any gas has a peak: they tell a shifted zero from gas. */
export const USUALLY_EMPTY = [5, 6, 7, 8, 9, 10, 11, 21, 23] as const;
/** Fewer empty masses than this say nothing about the zero. */
const ZERO_NEEDS = 3;

export interface Artefact {
  readonly column: Column;
  /** May be negative. */
  readonly free: boolean;
}

export const ARTEFACT_NAMES = {
  'foot-short': 'low-mass foot',
  'foot-long': 'low-mass foot',
  'desorbed-O': 'desorbed O+',
  'desorbed-F': 'desorbed F+',
  'desorbed-Cl': 'desorbed Cl+',
  zero: 'zero offset',
} as const;

/** Without a mass that only the foot reaches (1, 3 or 5) nothing tells it from hydrogen and helium. */
export const footCanBeFitted = (masses: readonly number[]): boolean =>
  masses.some((mass) => mass === 1 || mass === 3 || mass === 5);

export function artefacts(masses: readonly number[], principle: 'quadrupole' | 'ion trap'): readonly Artefact[] {
  const out: Artefact[] = [];
  if (principle === 'quadrupole' && footCanBeFitted(masses)) {
    out.push(
      plain('foot-short', footEntries(FOOT_DECAY_U[0]), masses),
      plain('foot-long', footEntries(FOOT_DECAY_U[1]), masses),
    );
  }
  if (principle === 'quadrupole') {
    if (masses.includes(16)) out.push(plain('desorbed-O', [[16, 1, 0]], masses));
    if (masses.includes(19)) out.push(plain('desorbed-F', [[19, 1, 0]], masses));
    // One of the two masses alone would take any chlorine compound for such ions.
    if (masses.includes(35) && masses.includes(37)) out.push(plain('desorbed-Cl', CHLORINE, masses));
  }
  if (masses.filter((mass) => (USUALLY_EMPTY as readonly number[]).includes(mass)).length >= ZERO_NEEDS) {
    const everywhere = masses.map((mass): Entry => [mass, 1, 0]);
    out.push({ ...plain('zero', everywhere, masses), free: true });
  }
  return out;
}

type Entry = readonly [mass: number, response: number, relativeError: number];

const CHLORINE: readonly Entry[] = [
  [35, 1, 0],
  [37, CHLORINE_RATIO, CHLORINE_RATIO_ERROR],
];

const footEntries = (decay: number): Entry[] =>
  FOOT_MASSES.map((mass) => [mass, Math.exp((1 - mass) / decay), mass === 1 ? 0 : FRAGMENT_ERROR]);

function plain(id: string, entries: readonly Entry[], masses: readonly number[]): Artefact {
  const measured = entries.filter(([mass]) => masses.includes(mass));
  const column: Column = {
    id,
    rows: Int32Array.from(measured, ([mass]) => masses.indexOf(mass)),
    response: Float64Array.from(measured, (entry) => entry[1]),
    relativeError: Float64Array.from(measured, (entry) => entry[2]),
    peakResponse: 1,
    referenceMass: measured[0]?.[0] ?? 0,
    referencePlace: 0,
    sensitivityError: 0,
    catalogueError: 0,
    gaugeFactor: 0,
    omittedShare: 0,
    lastRow: -1,
    unlisted: [],
    isProtected: true,
    reportable: false,
    seenShare: 1,
  };
  return { column, free: false };
}
