/** Alerts about scans that cannot be judged: frozen, or cut off at the top. */
import { followFault } from './faults.ts';
import type { Baseline, Memory } from './memory.ts';
import { OFF_DELAY } from './parameters.ts';
import { judgeRepeats, judgeTop } from './quality.ts';
import { stands } from './standing.ts';
import { ARMED_STATES } from './states.ts';
import type { WatchEvent, WatchInput } from './types.ts';
import { list } from './wording.ts';

/** Frozen and saturated scans are not judged; a scan that repeats the one before once or twice still is. */
export function dataFaults(
  { memory, input }: { memory: Memory; input: WatchInput },
  baseline: Baseline | undefined,
): { unfit: boolean; events: WatchEvent[] } {
  const { scan } = input;
  const { repeated, frozen } = judgeRepeats(memory, scan);
  const top = judgeTop(memory, input, baseline);
  const armed = ARMED_STATES.has(memory.state);
  const repeats = memory.quality.repeats + 1;
  const events = followFault(memory, scan.atMs, {
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
  events.push(...followCutOff(memory, input));
  events.push(
    ...followFault(memory, scan.atMs, {
      signature: 'detector-saturated',
      on: armed && top.saturated && !repeated,
      off: !top.saturated,
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
  return { unfit: stands(memory, 'frozen') || equalTops, events };
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
  instrument.cutOff = masses.length > 0 ? Math.max(0, before) + 1 : Math.max(-OFF_DELAY, Math.min(0, before) - 1);
  if (standing ? instrument.cutOff > -OFF_DELAY : instrument.cutOff < CUT_OFF_SCANS) return [];
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
