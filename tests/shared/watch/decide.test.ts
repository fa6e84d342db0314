/** One cause, one alert; two causes, two. Air: US Standard Atmosphere 1976 with ion yields of the CRC Handbook; oil: peaks of a paraffin oil, common practice. */
import { describe, expect, test } from 'vitest';
import { decide } from '../../../shared/watch/decide.ts';
import { advanceLanes, judgeLanes } from '../../../shared/watch/lanes.ts';
import type { Memory } from '../../../shared/watch/memory.ts';
import { followStanding } from '../../../shared/watch/standing.ts';
import { triggersOf } from '../../../shared/watch/triggers.ts';
import type { WatchContext, WatchEvent } from '../../../shared/watch/types.ts';
import { draft, frameOf, peaks, watched } from '../../support/world/frames.ts';

const chamber = watched(41);
const argon = { bursts: false, pulses: 0, meanIntervalSeconds: null, line: true };
const AIR = { ...peaks({ 28: 100, 14: 12, 32: 23, 16: 4, 40: 1.65, 20: 0.2, 36: 0.0055 }, 1e-7), gauge: 1.2e-7 };
const OIL = {
  ...peaks({ 43: 100, 41: 50, 57: 95, 55: 50, 71: 50, 69: 30, 39: 15, 29: 25, 27: 15, 85: 28 }, 3e-9),
  gauge: 9e-9,
};
type Change = Record<number, number> & { gauge: number };
const both = (a: Change, b: Change): Change =>
  Object.fromEntries(
    [...new Set([...Object.keys(a), ...Object.keys(b)])].map((k) => [k, (a[k as never] ?? 0) + (b[k as never] ?? 0)]),
  ) as never;

function watch(
  memory: Memory,
  change: Change | Record<number, number>,
  scans: number,
  rules: WatchContext['rules'] = [],
) {
  const events: WatchEvent[] = [];
  for (let i = 0; i < scans; i++) {
    const made = frameOf({ ...chamber, context: { ...chamber.context, rules } }, change, { memory, times: 1 });
    const spectra = advanceLanes(made);
    followStanding(made, spectra.day);
    const triggers = triggersOf(made.gasCauses, made.ownCauses, made.baseline, made.reference);
    const { worst } = judgeLanes(made, spectra, triggers);
    if (worst) events.push(...decide(made, { exceedance: worst, spectra, argon }));
    else memory.track.pending = null;
  }
  return events.filter(({ kind }) => kind === 'raised').map(({ signature }) => signature);
}

describe('what is raised', () => {
  test('one cause is one alert, however long it stands', () => {
    const memory = draft(chamber);
    watch(memory, {}, 5);
    expect(watch(memory, AIR, 60)).toEqual(['air-leak']);
  });

  test('a second cause beside the first is called as well, and once', () => {
    const memory = draft(chamber);
    watch(memory, {}, 5);
    expect(watch(memory, AIR, 30)).toEqual(['air-leak']);
    expect(watch(memory, both(AIR, OIL), 40)).toEqual(['hydrocarbon-oil']);
  });

  test('a single value that is off is nothing unknown, also beside something gross', () => {
    const memory = draft(chamber);
    watch(memory, {}, 5);
    const puff = { 40: 3e-7 };
    expect([...watch(memory, puff, 1), ...watch(memory, { 34: 3e-7 }, 1)]).toEqual([]);
    expect(watch(memory, {}, 10)).toEqual([]);
  });

  test('carries its odds and the change that it stands on', () => {
    const memory = draft(chamber);
    watch(memory, {}, 5);
    const made = frameOf(chamber, OIL, { memory });
    const triggers = triggersOf(made.gasCauses, made.ownCauses, made.baseline, made.reference);
    const spectra = advanceLanes(made);
    const trigger = triggers.find(({ cause }) => cause.id === 'hydrocarbon-oil')!;
    const [event] = decide(made, { exceedance: { trigger, lane: 'scan', z: 50, scans: 3 }, spectra, argon });
    if (event?.kind !== 'raised') throw new Error('nothing was raised');
    expect(event.finding.odds!).toBeGreaterThan(0.95);
    expect(event.finding.sureness).toBe('nearly certain');
    const { change } = event.finding;
    expect(change!.changePa[change!.masses.indexOf(43)]! / 3e-9).toBeCloseTo(1, 1);
  });

  test('of what days have shown, less is asked than of single scans, but not less than people have asked for', () => {
    const raisedBy = (lane: 'scan' | 'day', share: number, rules: WatchContext['rules'] = []) => {
      const memory = draft(chamber);
      const base = memory.baselines.base!;
      // A chamber that has hardly breathed for months.
      base.own = base.own.map((own) => ({ ...own, wobble: { square: 0, days: 100, mean: 0 } }));
      base.common = { mean: 0, square: 0, days: 100 };
      const made = frameOf({ ...chamber, context: { ...chamber.context, rules } }, {}, { memory });
      const triggers = triggersOf(made.gasCauses, made.ownCauses, made.baseline, made.reference);
      const trigger = triggers.find(({ cause }) => cause.id === 'H2O')!;
      const seen = Float64Array.from(trigger.direction.dense, (value) => share * trigger.least * value);
      const spectra = { ...advanceLanes(made), day: seen };
      const exceedance = { trigger, lane, z: 20, scans: 30 };
      const events = decide({ ...made, middle: seen }, { exceedance, spectra, argon });
      return events.flatMap((event) => (event.kind === 'raised' ? [event.signature] : []));
    };
    const wide = [{ signature: 'water' as const, leastDecades: 0.12 }];
    expect(raisedBy('day', 0.6)).toEqual([]);
    expect(raisedBy('day', 0.75)).toEqual(['water']);
    expect(raisedBy('scan', 0.75)).toEqual([]);
    expect(raisedBy('day', 0.75, wide)).toEqual([]);
    expect(raisedBy('day', 1.2, wide)).toEqual(['water']);
  });

  test('not where a rule keeps it quiet', () => {
    const memory = draft(chamber);
    expect(watch(memory, OIL, 20, [{ signature: 'hydrocarbon-oil', armedStates: ['gas-on'] }])).toEqual([]);
    expect(memory.standing).toEqual([]);
  });
});
