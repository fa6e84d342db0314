/** Single masses that fall to the floor for one scan: left out by the analysis, counted here. */
import { followFault } from './faults.ts';
import type { Memory } from './memory.ts';
import type { WatchEvent, WatchInput } from './types.ts';
import { list } from './wording.ts';

/** So many scans with a drop-out among the latest: a contact, a cable or a high voltage that fails now and then. */
const WINDOW_SCANS = 200;
const MANY = 5;
const FEW = 1;
const MASSES_NAMED = 6;
const DROP_OUT_CAUSE = 'drop-outs';

export function followDropOuts(memory: Memory, { scan, analysis }: WatchInput): WatchEvent[] {
  const { instrument } = memory;
  const masses = (analysis.measurement?.leftOut ?? []).flatMap(({ mass, why }) => (why === 'drop-out' ? [mass] : []));
  const recent = instrument.dropOuts.filter((entry) => memory.scans - entry.scan < WINDOW_SCANS);
  instrument.dropOuts = masses.length > 0 ? [...recent, { scan: memory.scans, masses }].slice(-MANY * 2) : recent;
  const count = instrument.dropOuts.length;
  const standing = memory.standing.some(({ cause }) => cause === DROP_OUT_CAUSE);
  if (standing ? count > FEW : count < MANY) return [];
  const named = [...new Set(instrument.dropOuts.flatMap((entry) => entry.masses))].sort((a, b) => a - b);
  const said = `mass ${list(named.slice(0, MASSES_NAMED).map(String))}${named.length > MASSES_NAMED ? ' and others' : ''}`;
  return followFault(memory, scan.atMs, {
    signature: 'noise',
    cause: DROP_OUT_CAUSE,
    on: true,
    off: true,
    sureness: 'likely',
    summary: `Peaks drop out: in ${count} of the last ${WINDOW_SCANS} scans a steady peak was gone for one scan (${said}). They were left out, and no gas has fallen. Likely.`,
    evidence: [
      {
        name: `Scans with a drop-out among the last ${WINDOW_SCANS}`,
        value: count,
        unit: '1',
        expected: `below ${MANY}`,
        expectedHigh: MANY - 1,
        verdict: 'a contact or a voltage that fails now and then',
      },
      {
        name: 'Masses that dropped out',
        value: named.length,
        unit: '1',
        expected: 'none',
        expectedHigh: 0,
        verdict: said,
      },
    ],
  });
}
