/**
 * What the gauge of the chamber has done in a change, in words and as evidence. Where heights are scaled to it, it is no
 * witness of its own, and what it did follows from their sum: a gauge counts ions as the peaks do.
 */
import { gaugeReading } from '../analysis/gauge.ts';
import type { Evidence } from '../contract/alerts.ts';
import type { Frame } from './frame.ts';
import { number } from './wording.ts';

export interface GaugeSeen {
  readonly nowPa: number;
  /** What it should read: as usual, or as the tail of a pump-down foretells. */
  readonly beforePa: number;
  /** One sigma of now over before. */
  readonly sigma: number;
  readonly inTail: boolean;
  /** It gives the heights their scale. */
  readonly isScale: boolean;
}

type Ground = Pick<Frame, 'baseline' | 'reference' | 'input' | 'context'>;

/** A gauge repeats within so much from scan to scan; the tail of a pump-down is foretold no better than within a tenth. */
const REPEATS = 0.012;
const TAIL_ERROR = 0.1;
const MIDDLE_SHARE = 0.45;
const CLEAR_SIGMAS = 3;
/** Less is no news of a gauge. */
const LEAST_MOVE = 0.03;
/** Beyond this scatter nothing can be said of it. */
const MOST_SIGMA = 0.2;

/** The heights of this scan were scaled to its gauge. */
export function isScaledByGauge({ input, context }: Pick<Frame, 'input' | 'context'>): boolean {
  const { scan } = input;
  if (scan.unit === '1') return true;
  const isBare = scan.unit === 'A' && context.calibration.sensitivityAmperesPerPascal === null;
  return isBare && gaugeReading(scan).kind === 'reading';
}

/** Null: no gauge is in these scans. */
export function gaugeSeen(ground: Ground, change: Float64Array): GaugeSeen | null {
  const { baseline, reference } = ground;
  const isScale = isScaledByGauge(ground);
  const { now, before, variance } = isScale ? bySum(ground, change) : byItself(ground, change);
  if (!(isScale || baseline.hasGauge) || !(before > 0)) return null;
  const reading = gaugeReading(ground.input.scan);
  if (isScale && reading.kind !== 'reading') return null;
  const nowPa = isScale && reading.kind === 'reading' ? reading.pressurePa : now;
  const inTail = reference.lifted?.some((lifted) => lifted > 0) ?? false;
  const sigma = Math.hypot(Math.sqrt(MIDDLE_SHARE * variance) / before, REPEATS, inTail ? TAIL_ERROR : 0);
  return { nowPa, beforePa: (nowPa * before) / Math.max(now, 1e-300), sigma, inTail, isScale };
}

const byItself = ({ baseline, reference }: Ground, change: Float64Array) => ({
  now: reference.spectrum[0]! + change[0]!,
  before: reference.spectrum[0]!,
  variance: baseline.variance[0]!,
});

function bySum({ baseline, reference }: Ground, change: Float64Array) {
  let [now, before, variance] = [0, 0, 0];
  for (let m = 1; m < change.length; m++) {
    now += reference.spectrum[m]! + change[m]!;
    before += reference.spectrum[m]!;
    variance += baseline.variance[m]!;
  }
  return { now, before, variance };
}

const factorOf = ({ nowPa, beforePa }: GaugeSeen): number => nowPa / beforePa;

/** Relative: within it the gauge has not moved. */
const roomOf = ({ sigma }: GaugeSeen): number => Math.max(LEAST_MOVE, CLEAR_SIGMAS * sigma);

export const hasGaugeMoved = (gauge: GaugeSeen): boolean => Math.abs(factorOf(gauge) - 1) > roomOf(gauge);

/** Without its subject: `has risen by a factor of 1.8`, `stands still within 3 %`. */
function movementSaid(gauge: GaugeSeen): string {
  const factor = factorOf(gauge);
  const against = gauge.inTail ? ' of what the tail foretells' : '';
  if (!hasGaugeMoved(gauge)) {
    if (gauge.sigma > MOST_SIGMA) return 'scatters too much to tell';
    const within = Math.ceil(100 * (Math.abs(factor - 1) + 2 * gauge.sigma));
    return `${gauge.inTail ? 'stands' : 'stands still'} within ${within}\u00a0%${against}`;
  }
  if (gauge.inTail) return `reads ${number(factor)} times what the tail foretells`;
  const verb = factor > 1 ? 'has risen' : 'has fallen';
  const by = Math.max(factor, 1 / factor);
  return by < 1.1 ? `${verb} by ${Math.round(100 * (by - 1))}\u00a0%` : `${verb} by a factor of ${number(by)}`;
}

export function gaugeSaid(gauge: GaugeSeen | null): string {
  if (gauge === null) return 'no gauge is there to tell';
  return `the gauge${gauge.isScale ? ', which gives the scale,' : ''} ${movementSaid(gauge)}`;
}

/** Before and after; expected is what counts as standing still, so that picture and words agree. */
export function gaugeEvidence(gauge: GaugeSeen | null): Evidence | null {
  if (gauge === null) return null;
  const { nowPa, beforePa, isScale, inTail } = gauge;
  const room = roomOf(gauge);
  const [low, high] = [beforePa * Math.max(0, 1 - room), beforePa * (1 + room)];
  return {
    name: isScale ? 'Gauge, which gives the scale' : 'Gauge',
    value: nowPa,
    unit: 'Pa',
    expected: `${number(low)}–${number(high)}, ${inTail ? 'by the tail' : 'as before'}`,
    expectedLow: low,
    expectedHigh: high,
    verdict: movementSaid(gauge),
  };
}
