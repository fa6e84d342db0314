/**
 * Where the peaks of a profile stand. Heights are read where the peaks are, so a scale that slides takes nothing from
 * the gases at first; beyond some tenths of a unit it must be calibrated before peaks are taken for their neighbours.
 *
 * Judged at both ends of what stands out of the noise, by the middle one of three scans: more than 0.2 u from the
 * integer masses, or from the place where the peaks usually are. (Scans with one value per mass show no position: there a
 * slid scale is known by the height that it takes from heavy peaks, see ownCauses.ts.)
 */
import type { Evidence } from '../contract/alerts.ts';
import { followFault } from './faults.ts';
import type { Memory } from './memory.ts';
import { offDelayOf } from './onDelay.ts';
import { DAY, INSTRUMENT_ON_DELAY } from './parameters.ts';
import type { WatchEvent, WatchInput } from './types.ts';
import { number } from './wording.ts';

/** A peak 0.5 u wide has lost a quarter of its height to a reading 0.2 u off its top. */
const SHIFT_U = 0.2;
/** Below this it returns; this near to its mass a peak is where it should be, wherever it used to be. */
const BACK_U = 0.15;
const IN_PLACE_U = 0.1;
/** Nearer to the next mass than this, it cannot be said which mass a peak belongs to. */
const DOUBTFUL_U = 0.4;
/** A peak tells its place from here on. */
const CLEAR_SIGMAS = 10;
/** The usual place: the mean of so many scans, then a month's time constant, so that a scale that creeps is seen. */
const FIRST_SCANS = 30;
const FOLLOW_SECONDS = 30 * DAY;
const MASS_SCALE_CAUSE = 'mass-scale';

interface Place {
  readonly zero: number;
  readonly slope: number;
}

/** True in `doubtful` while heights may belong to another mass: gases are not judged on such a scan. */
export function followMassScale(
  memory: Memory,
  { scan, peaks, analysis }: WatchInput,
  seconds: number,
): { events: WatchEvent[]; doubtful: boolean } {
  const scale = analysis.measurement?.massScale ?? null;
  const clear = scale === null ? [] : clearMasses(peaks);
  if (scale === null || clear.length === 0) return { events: [], doubtful: false };
  const book = memory.instrument.massScale;
  const place = { zero: scale.offsetU - scale.slope * scale.pivot, slope: scale.slope };
  book.recent = [...book.recent.slice(-2), place];
  const ends = [clear[0]!, clear.at(-1)!] as const;
  const now = ends.map((mass) => middle(book.recent.map((entry) => at(entry, mass))));
  const off = Math.max(...now.map(Math.abs));
  const { usual } = book;
  const moved = usual === null ? 0 : Math.max(...now.map((u, i) => Math.abs(u - at(usual, ends[i]!))));
  const beyond = off > SHIFT_U || (moved > SHIFT_U && off > IN_PLACE_U);
  const within = off < IN_PLACE_U || (off < BACK_U && moved < BACK_U);
  book.beyond = beyond ? book.beyond + 1 : 0;
  book.within = within ? book.within + 1 : 0;
  const doubtful = off > DOUBTFUL_U;
  const standing = memory.standing.some(({ cause }) => cause === MASS_SCALE_CAUSE);
  if (!beyond && !standing) book.usual = learned(usual, place, seconds);
  if (standing ? book.within < offDelayOf(memory.periodSeconds) : book.beyond < INSTRUMENT_ON_DELAY)
    return { events: [], doubtful };
  // Back from beyond, it may have been calibrated: its place is a new one.
  if (standing) book.usual = { ...place, scans: 1 };
  const events = followFault(memory, scan.atMs, {
    signature: 'mass-shift',
    cause: MASS_SCALE_CAUSE,
    on: true,
    off: true,
    summary: summaryOf(now, ends, usual),
    evidence: evidenceOf({ now, ends, usual, slope: scale.slope, clear: clear.length }),
  });
  return { events, doubtful };
}

const at = ({ zero, slope }: Place, mass: number): number => zero + slope * mass;

function middle(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1]!;
}

function clearMasses({ masses, heightPa, readNoisePa }: WatchInput['peaks']): number[] {
  return masses.filter((_, i) => heightPa[i]! > CLEAR_SIGMAS * readNoisePa);
}

type Usual = Memory['instrument']['massScale']['usual'];

function learned(usual: Usual, place: Place, seconds: number): Usual {
  const scans = (usual?.scans ?? 0) + 1;
  const share = scans <= FIRST_SCANS ? 1 / scans : Math.min(1 / FIRST_SCANS, seconds / FOLLOW_SECONDS);
  const before = usual ?? place;
  return {
    zero: before.zero + share * (place.zero - before.zero),
    slope: before.slope + share * (place.slope - before.slope),
    scans,
  };
}

const byMass = (u: number): string => `${number(Math.abs(u))}\u00a0u ${u < 0 ? 'below' : 'above'}`;

function summaryOf(now: readonly number[], ends: readonly number[], usual: Usual): string {
  const worst = Math.abs(now[1]!) > Math.abs(now[0]!) ? 1 : 0;
  const was = usual === null ? '' : `, usually ${byMass(at(usual, ends[worst]!))}`;
  return `The mass scale of the analyser has slid: the peak at mass ${ends[worst]} stands ${byMass(now[worst]!)} its mass${was}. Heights are still read where the peaks are. Nearly certain.`;
}

interface Told {
  readonly now: readonly number[];
  readonly ends: readonly number[];
  readonly usual: Usual;
  readonly slope: number;
  readonly clear: number;
}

function evidenceOf({ now, ends, usual, slope, clear }: Told): Evidence[] {
  const places = ends.map((mass, i): Evidence => {
    const usually = usual === null ? null : at(usual, mass);
    return {
      name: `Peak at mass ${mass} from its mass`,
      value: now[i]!,
      unit: 'u',
      expected: `−${SHIFT_U} to ${SHIFT_U}${usually === null ? '' : `, usually ${number(usually)}`}`,
      expectedLow: -SHIFT_U,
      expectedHigh: SHIFT_U,
      verdict: Math.abs(now[i]!) > SHIFT_U ? 'off its mass' : 'near its mass',
    };
  });
  return [
    ...places,
    {
      name: 'Slope of the mass scale',
      value: slope,
      unit: 'u per u',
      expected: usual === null ? null : `usually ${number(usual.slope)}`,
      verdict: 'how much more heavy peaks are off than light ones',
    },
    {
      name: 'Peaks that stand out of the noise',
      value: clear,
      unit: '1',
      expected: null,
      verdict: 'the place is read from them',
    },
  ];
}
