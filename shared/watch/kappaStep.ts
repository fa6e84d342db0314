/**
 * κ = gauge / Σ s_i P_i over days. It need not be 1: gauge and analyser differ by tens of per cent, and a steady κ is a
 * factor that can be entered. It must not move: when it does, and the shares of the peaks have stayed, the sensitivity
 * of one of the two has changed.
 *
 *   |mean of 25 scans − usual| > max(ln 1.15, 4 × learned scatter) + 0.6 × share of the spectrum that has changed
 *
 * The last term because relative sensitivities are known no better than some tens of per cent: when other gases lead, κ moves
 * by itself. The usual follows within a month, so that 30 % in a week is seen, and stands still while the alert does.
 */
import type { Evidence } from '../contract/alerts.ts';
import { followFault } from './faults.ts';
import type { Frame } from './frame.ts';
import type { KappaBook } from './instrumentMemory.ts';
import { meanShareOf, offDelayOf, onDelayOf } from './onDelay.ts';
import { DAY, HOUR } from './parameters.ts';
import { stands } from './standing.ts';
import type { WatchEvent } from './types.ts';
import { number, times } from './wording.ts';

const LEAST_STEP = Math.log(1.15);
const SCATTER_SIGMAS = 4;
const COMPOSITION = 0.6;
/** Dead band between on and off. */
const OFF_SHARE = 0.6;
/** So long κ is learned before it is judged. */
const FIRST_SECONDS = 12 * HOUR;
const FIRST_SCANS = 60;
const FOLLOW_SECONDS = 30 * DAY;
const LOCAL_SECONDS = DAY;
const MEAN_READY = 0.85;
/** Scatter before anything is known of it, worth a day. */
const PRIOR_SCATTER = 0.02;
/** One of the two has moved when the other has moved less than half as far. */
const ALONE = 0.5;
export const KAPPA_CAUSE = 'kappa';

export function followKappa(frame: Frame): WatchEvent[] {
  const { memory, input, state, seconds, atMs, periodSeconds } = frame;
  const { kappa } = input.analysis;
  const gauge = input.scan.totalPressurePa ?? 0;
  if (state !== 'base' || memory.settling || !(kappa !== null && kappa > 0 && gauge > 0)) return [];
  // What comes in moves κ by the error of its own sensitivity; what already stands says more than κ can.
  if (memory.standing.some(({ direction }) => direction !== null) || stands(memory, 'impossible-pressure')) return [];
  const book = memory.instrument.kappa;
  const logs = { kappa: Math.log(kappa), gauge: Math.log(gauge), sum: Math.log(gauge / kappa) };
  average(book, logs, meanShareOf(periodSeconds));
  if (book.now.weight < MEAN_READY) return [];
  const now = meanNow(book);
  const { usual } = book;
  if (usual === null || book.scans < FIRST_SCANS || book.seconds < FIRST_SECONDS) {
    learn(book, now, seconds);
    return [];
  }
  const changed = compositionChange(frame);
  const allowed = Math.max(LEAST_STEP, SCATTER_SIGMAS * scatterOf(book)) + COMPOSITION * changed;
  const away = Math.abs(now.kappa - usual.kappa);
  book.above = away > allowed ? book.above + 1 : 0;
  book.below = away < OFF_SHARE * allowed ? book.below + 1 : 0;
  const told = { usual, now, allowed, changed };
  const standing = memory.standing.some(({ cause }) => cause === KAPPA_CAUSE);
  if (!standing && away < allowed) learn(book, now, seconds);
  const onDelay = onDelayOf({ lane: 'mean', instrument: true, gross: false, witnessed: false, periodSeconds });
  if (standing ? book.below < offDelayOf(periodSeconds) : book.above < onDelay) return [];
  return followFault(memory, atMs, {
    signature: 'sensitivity-drift',
    cause: KAPPA_CAUSE,
    on: true,
    off: true,
    sureness: 'likely',
    summary: summaryOf(told),
    evidence: evidenceOf(told),
  });
}

type Logs = NonNullable<KappaBook['usual']>;

function average(book: KappaBook, logs: Logs, share: number): void {
  const { now } = book;
  const moved = (before: number, value: number) => before + share * (value - before);
  book.now = {
    kappa: moved(now.kappa, logs.kappa),
    gauge: moved(now.gauge, logs.gauge),
    sum: moved(now.sum, logs.sum),
    weight: moved(now.weight, 1),
  };
}

function meanNow({ now: { kappa, gauge, sum, weight } }: KappaBook): Logs {
  return { kappa: kappa / weight, gauge: gauge / weight, sum: sum / weight };
}

function learn(book: KappaBook, now: Logs, seconds: number): void {
  const before = book.usual ?? now;
  const share = book.scans < FIRST_SCANS ? 1 / (book.scans + 1) : Math.min(1 / FIRST_SCANS, seconds / FOLLOW_SECONDS);
  const moved = (a: number, b: number) => a + share * (b - a);
  book.usual = {
    kappa: moved(before.kappa, now.kappa),
    gauge: moved(before.gauge, now.gauge),
    sum: moved(before.sum, now.sum),
  };
  if (book.scans === 0) book.local = now.kappa;
  book.local += Math.min(1, Math.max(seconds / LOCAL_SECONDS, 1 / (book.scans + 1))) * (now.kappa - book.local);
  book.square += Math.min((now.kappa - book.local) ** 2, LEAST_STEP ** 2) * seconds;
  book.seconds += seconds;
  book.scans++;
}

function scatterOf({ square, seconds }: KappaBook): number {
  return Math.sqrt((PRIOR_SCATTER ** 2 * DAY + square) / (DAY + seconds));
}

/** Share of the spectrum that has gone from one peak to another, 0 to 1; a common factor is no change. */
function compositionChange({ middle, reference: { spectrum } }: Frame): number {
  let [before, after] = [0, 0];
  for (let m = 1; m < spectrum.length; m++) {
    before += Math.max(0, spectrum[m]!);
    after += Math.max(0, spectrum[m]! + middle[m]!);
  }
  if (!(before > 0 && after > 0)) return 1;
  let moved = 0;
  for (let m = 1; m < spectrum.length; m++)
    moved += Math.abs(Math.max(0, spectrum[m]! + middle[m]!) / after - Math.max(0, spectrum[m]!) / before);
  return moved / 2;
}

interface Told {
  readonly usual: Logs;
  readonly now: Logs;
  readonly allowed: number;
  readonly changed: number;
}

function summaryOf({ usual, now }: Told): string {
  const gauge = now.gauge - usual.gauge;
  const sum = now.sum - usual.sum;
  const by = (log: number) => `${times(Math.exp(Math.abs(log)))} ${log > 0 ? 'as much as' : 'less than'} usual`;
  const kappa = `κ is ${number(Math.exp(now.kappa))}, usually ${number(Math.exp(usual.kappa))}`;
  if (Math.abs(sum) < ALONE * Math.abs(gauge))
    return `The gauge alone has moved: it reads ${by(gauge)}, the spectrum does not follow, and ${kappa}. Likely.`;
  if (Math.abs(gauge) < ALONE * Math.abs(sum))
    return `The sensitivity of the analyser has changed: all gases together read ${by(sum)}, the gauge does not, and ${kappa}. Likely.`;
  return `The analyser or the gauge has drifted: ${kappa}, while the shares of the gases have stayed. Likely.`;
}

function evidenceOf({ usual, now, allowed, changed }: Told): Evidence[] {
  const [low, high] = [Math.exp(usual.kappa - allowed), Math.exp(usual.kappa + allowed)];
  const factor = (name: string, log: number): Evidence => ({
    name,
    value: Math.exp(log),
    unit: '1',
    expected: 'near 1',
    expectedLow: Math.exp(-LEAST_STEP),
    expectedHigh: Math.exp(LEAST_STEP),
    verdict: Math.abs(log) > LEAST_STEP ? 'has moved' : 'has stayed',
  });
  return [
    {
      name: 'κ: gauge over the sum of partial pressures, mean of 25 scans',
      value: Math.exp(now.kappa),
      unit: '1',
      expected: `${number(low)}–${number(high)}`,
      expectedLow: low,
      expectedHigh: high,
      verdict: 'has moved and stays',
    },
    factor('Gauge against its usual', now.gauge - usual.gauge),
    factor('Sum of partial pressures against its usual', now.sum - usual.sum),
    {
      name: 'Share of the spectrum that went from one peak to another',
      value: changed,
      unit: '1',
      expected: 'small',
      verdict: 'it is not another mixture of gases',
    },
  ];
}
