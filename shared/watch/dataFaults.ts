/** Alerts about scans that cannot be judged: frozen, or cut off at the top. */
import { doubtfulData } from './doubt.ts';
import { followFault, isAtRest } from './faults.ts';
import type { Baseline, Memory } from './memory.ts';
import { offDelayOf } from './onDelay.ts';
import { ON_DELAY } from './parameters.ts';
import { isEmpty, judgeRepeats, judgeTop, repeatsUnusually } from './quality.ts';
import { stands } from './standing.ts';
import { ARMED_STATES } from './states.ts';
import { isEarly } from './timeline.ts';
import type { WatchEvent, WatchInput } from './types.ts';
import { list } from './wording.ts';

/** Frozen and saturated scans are not judged; a scan that repeats the one before once or twice still is, but is doubted. */
export function dataFaults(
  { memory, input }: { memory: Memory; input: WatchInput },
  baseline: Baseline | undefined,
): { unfit: boolean; doubt: string | null; events: WatchEvent[] } {
  const { scan } = input;
  const { repeated, frozen } = judgeRepeats(memory, scan);
  const shares = sharesOf(input);
  const top = judgeTop(memory, shares ? { scan, peaks: shares } : input, shares ? undefined : baseline);
  const saturated = top.saturated || (shares !== null && isShareAtStop(memory, scan.values));
  const armed = ARMED_STATES.has(memory.state);
  const repeats = memory.quality.repeats + 1;
  const events = isAtRest(memory, frozen)
    ? []
    : followFault(memory, scan.atMs, {
        signature: 'frozen',
        on: frozen,
        off: !repeated,
        summary: `The same scan has come ${repeats} times: all values repeat exactly, so nothing is known of the chamber. Nearly certain.`,
        evidence: [
          {
            name: 'Equal scans in a row',
            value: repeats,
            unit: '1',
            expected: 'at most 2',
            expectedHigh: 2,
            verdict: 'a living analyser never repeats its noise',
          },
        ],
      });
  events.push(...followEmpty(memory, input), ...followCutOff(memory, input));
  const early = isEarly(memory, scan.atMs);
  // With a state the gas that was let in goes: that is no stop.
  if (early) delete memory.quality.sinceFall;
  const doubt =
    armed && !early
      ? doubtfulData({
          equal: repeatsUnusually(memory) ? repeats : 1,
          isEmpty: isEmpty(scan),
          isCutOff: memory.instrument.cutOff > 0 || top.doubtful,
        })
      : null;
  const isCutOff = armed && saturated && !repeated;
  if (isAtRest(memory, isCutOff)) return { unfit: false, doubt, events };
  events.push(
    ...followFault(memory, scan.atMs, {
      signature: 'detector-saturated',
      on: isCutOff,
      off: !saturated,
      summary: `The highest peaks end at one height (mass ${list(top.topMasses.slice(0, 4).map(String))}): they are cut off. Likely.`,
      sureness: 'likely',
      evidence: [
        {
          name: 'Peaks of exactly the top height',
          value: top.topMasses.length,
          unit: '1',
          expected: '1',
          expectedHigh: 1,
          verdict: 'cut off',
        },
      ],
    }),
  );
  const equalTops = memory.standing.some(({ cause }) => cause === 'detector-saturated');
  return { unfit: stands(memory, 'frozen') || equalTops, doubt, events };
}

/** A height that the gauge has scaled moves with the gauge: a stop shows in the shares as they were sent. */
function sharesOf({ scan, peaks }: WatchInput): WatchInput['peaks'] | null {
  const { masses, values, unit } = scan;
  const isProfile = 'perUnit' in masses && masses.perUnit !== 1;
  if (unit !== '1' || isProfile) return null;
  return {
    ...peaks,
    masses: 'perUnit' in masses ? Array.from(values, (_, i) => masses.first + i) : masses,
    heightPa: values.map((value) => (Number.isFinite(value) ? value : 0)),
  };
}

/** The highest share repeats to its last digit, so often that chance would do it once in a million runs. */
const STOP_REPEATS = { least: 4, most: 8 } as const;
const CHANCE_OF_REPEATS = 1e-6;
/** Mean range of five normal values (tables of control charts, from memory), sigma. */
const RANGE_SIGMAS = 2.33;

/**
 * The highest peak scatters by no less than the second does, since ions are counted. Two normal readings of scatter σ fall
 * into one step of the last digit with probability step/(2 √π σ).
 */
function isShareAtStop({ quality }: Memory, values: Float64Array): boolean {
  if (quality.topRepeats < STOP_REPEATS.least || !quality.second) return false;
  const sigma = (quality.second[1] - quality.second[0]) / RANGE_SIGMAS;
  const step = lastDigit(values) * quality.top;
  if (sigma <= step) return false;
  const needed = Math.log(CHANCE_OF_REPEATS) / Math.log(step / (2 * Math.sqrt(Math.PI) * sigma));
  return quality.topRepeats >= Math.min(STOP_REPEATS.most, Math.ceil(needed));
}

/** Relative size of the last digit that the values are sent with. */
function lastDigit(values: Float64Array): number {
  let digits = 1;
  for (const value of values) {
    const mantissa = Math.abs(value).toExponential().split('e')[0] ?? '';
    digits = Math.max(digits, mantissa.replace('.', '').length);
  }
  return 10 ** (1 - digits);
}

const EMPTY_CAUSE = 'empty';

/** Scans arrive and hold nothing: the chamber is not silent, and nothing is known of it. */
function followEmpty(memory: Memory, { scan }: WatchInput): WatchEvent[] {
  const { quality } = memory;
  const isNothing = isEmpty(scan);
  quality.empty = isNothing && ARMED_STATES.has(memory.state) ? (quality.empty ?? 0) + 1 : 0;
  const on = quality.empty >= ON_DELAY && quality.varied > 0;
  if (isAtRest(memory, on)) return [];
  return followFault(memory, scan.atMs, {
    signature: 'frozen',
    cause: EMPTY_CAUSE,
    on,
    off: !isNothing,
    summary: `Nobody sees this chamber: the last ${quality.empty} scans came without a single value. Nearly certain.`,
    evidence: [
      {
        name: 'Scans in a row without a value',
        value: quality.empty,
        unit: '1',
        expected: 'none',
        expectedHigh: 0,
        verdict: 'the emission is off, or the gateway sends empty scans',
      },
    ],
  });
}

/** Peaks that end flat in this many scans in a row, as the analysis has seen from their shape or from known stops. */
const CUT_OFF_SCANS = 3;
const CUT_OFF_CAUSE = 'cut-off';
const MASSES_NAMED = 4;

/** Those peaks are left out; the rest of the spectrum is still judged. */
function followCutOff(memory: Memory, { scan, analysis }: WatchInput): WatchEvent[] {
  const leftOut = analysis.measurement?.leftOut ?? [];
  const masses = leftOut.flatMap(({ mass, why }) => (why === 'cut off' ? [mass] : []));
  const { instrument } = memory;
  const standing = memory.standing.some(({ cause }) => cause === CUT_OFF_CAUSE);
  // Counted upwards while it is seen, downwards from nothing while it is not.
  const before = instrument.cutOff;
  const offDelay = offDelayOf(memory.periodSeconds);
  instrument.cutOff = masses.length > 0 ? Math.max(0, before) + 1 : Math.max(-offDelay, Math.min(0, before) - 1);
  if (standing ? instrument.cutOff > -offDelay : instrument.cutOff < CUT_OFF_SCANS) return [];
  if (!standing && !ARMED_STATES.has(memory.state)) return [];
  return followFault(memory, scan.atMs, {
    signature: 'detector-saturated',
    cause: CUT_OFF_CAUSE,
    on: true,
    off: true,
    summary: `The detector is at its stop: the peak at mass ${list(masses.slice(0, MASSES_NAMED).map(String))} is cut off and was left out. Nearly certain.`,
    evidence: [
      {
        name: 'Peaks that are cut off',
        value: masses.length,
        unit: '1',
        expected: 'none',
        expectedHigh: 0,
        verdict: `mass ${list(masses.slice(0, MASSES_NAMED).map(String))}`,
      },
      {
        name: 'Scans in a row',
        value: Math.max(0, instrument.cutOff),
        unit: '1',
        expected: `below ${CUT_OFF_SCANS}`,
        expectedHigh: CUT_OFF_SCANS - 1,
        verdict: 'not a single spike',
      },
    ],
  });
}
