/** A gain on record that does not hold: told where a switch between detectors has shown it, with the switch as evidence. */
import type { Evidence } from '../contract/alerts.ts';
import { followFault, isAtRest } from './faults.ts';
import type { GainSeen } from './instrumentMemory.ts';
import type { Memory } from './memory.ts';
import { ON_DELAY } from './parameters.ts';
import type { WatchEvent } from './types.ts';
import { number, times } from './wording.ts';

/** Beyond this the two detectors differ by more than a gain repeats (our choice); inside the other they agree again. */
const OFF_BY = Math.log(1.15);
const ALIKE_BY = Math.log(1.1);
const GAIN_CAUSE = 'gain-on-record';

/** `seen`: what a switch before this scan has shown; `measured`: the gain in use is from a pair of scans. */
export function followGainStep(
  memory: Memory,
  atMs: number,
  { seen, measured }: { readonly seen: GainSeen | null; readonly measured: boolean },
): WatchEvent[] {
  const before = memory.instrument.gain;
  const last = measured ? null : (seen ?? before.seen);
  const away = last === null ? 0 : Math.abs(Math.log(last.ratio));
  const scans = away > OFF_BY ? before.scans + 1 : 0;
  memory.instrument.gain = { seen: last, scans };
  if (isAtRest(memory, scans >= ON_DELAY)) return [];
  return followFault(memory, atMs, {
    signature: 'sensitivity-drift',
    cause: GAIN_CAUSE,
    on: scans >= ON_DELAY,
    off: away < ALIKE_BY,
    sureness: 'likely',
    summary: last === null ? '' : summaryOf(last),
    evidence: last === null ? [] : evidenceOf(last),
  });
}

function summaryOf({ ratio, gainOnRecord }: GainSeen): string {
  const how = ratio > 1 ? `${times(ratio)} what` : `${times(1 / ratio)} less than`;
  const record = gainOnRecord === null ? '' : ` of ${number(gainOnRecord)}`;
  return `The multiplier reads ${how} the Faraday detector reads of the same gas: the reading stepped when the detector was switched, so the gain on record${record} does not hold. The chamber has not changed. Likely.`;
}

function evidenceOf({ ratio, peaks, alike, gauge, gainOnRecord }: GainSeen): Evidence[] {
  const rows: Evidence[] = [
    {
      name: 'Multiplier over Faraday detector, before and after the switch',
      value: ratio,
      unit: '1',
      expected: `${number(Math.exp(-OFF_BY))}–${number(Math.exp(OFF_BY))}`,
      expectedLow: Math.exp(-OFF_BY),
      expectedHigh: Math.exp(OFF_BY),
      verdict: 'the gain on record does not hold',
    },
    {
      name: 'Clear peaks that stepped alike',
      value: alike,
      unit: '1',
      expected: `most of ${peaks}`,
      expectedLow: peaks / 2,
      expectedHigh: peaks,
      verdict: 'one factor for all: no gas',
    },
  ];
  if (gainOnRecord !== null)
    rows.push({
      name: 'Gain on record',
      value: gainOnRecord,
      unit: '1',
      expected: `about ${number(gainOnRecord * ratio)} by this switch`,
      verdict: 'to be measured anew',
    });
  if (gauge !== null)
    rows.push({
      name: 'Gauge after the switch over before',
      value: gauge,
      unit: '1',
      expected: 'near 1',
      expectedLow: 0.9,
      expectedHigh: 1.1,
      verdict: 'the chamber did not change with it',
    });
  return rows;
}
