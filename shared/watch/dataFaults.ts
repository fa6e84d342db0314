/** Alerts about scans that cannot be judged: frozen, or cut off at the top. */
import { followFault } from './faults.ts';
import type { Baseline, Memory } from './memory.ts';
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
  return { unfit: stands(memory, 'frozen') || stands(memory, 'detector-saturated'), events };
}
