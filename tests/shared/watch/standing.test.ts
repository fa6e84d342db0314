import { describe, expect, test } from 'vitest';
import { followArgon } from '../../../shared/watch/argon.ts';
import type { Memory } from '../../../shared/watch/memory.ts';
import { followNewPeak } from '../../../shared/watch/newPeak.ts';
import { end, followStanding, forget, gasesOf, raise, stands } from '../../../shared/watch/standing.ts';
import { triggersOf } from '../../../shared/watch/triggers.ts';
import { updateStanding } from '../../../shared/watch/update.ts';
import { draft, frameOf, peaks, watched } from '../../support/world/frames.ts';

const chamber = watched(41);
const finding = {
  summary: '',
  sureness: 'likely' as const,
  firstStep: null,
  settle: null,
  evidence: [],
  alternatives: [],
};
const oil = (size: number) => ({
  ...peaks({ 43: 100, 41: 50, 57: 95, 55: 50, 71: 50, 69: 30, 39: 15, 29: 25, 27: 15, 85: 28 }, size),
  gauge: 3 * size,
});

function raisedOil(memory: Memory, size = 3e-9) {
  const frame = frameOf(chamber, oil(size), { memory });
  const cause = frame.gasCauses.find(({ id }) => id === 'hydrocarbon-oil')!;
  const [trigger] = triggersOf([cause], [], frame.baseline, frame.reference);
  const amplitude = size / Math.max(...cause.variants[0]!.dense.slice(1));
  raise(memory, frame.atMs, {
    ...{
      signature: 'hydrocarbon-oil',
      cause: cause.id,
      gases: ['hydrocarbon-oil'],
      priority: 'medium',
      finding,
      lane: 'scan',
    },
    ...{ direction: trigger!.direction.dense, observed: frame.middle, amplitude, leastAmplitude: trigger!.least },
  });
  return frame;
}

describe('what stands', () => {
  test('is measured alone, and is over when it is gone for five scans', () => {
    const memory = draft(chamber);
    raisedOil(memory);
    const [standing] = memory.standing;
    expect(followStanding(frameOf(chamber, oil(3e-9), { memory }), null).over.size).toBe(0);
    expect(standing!.amplitude / standing!.raisedAmplitude).toBeCloseTo(1, 1);
    const over = [];
    for (let i = 0; i < 5; i++)
      over.push(followStanding(frameOf(chamber, {}, { memory, times: i === 0 ? 3 : 1 }), null).over.size);
    expect(over).toEqual([0, 0, 0, 0, 1]);
    expect(end(memory, 1, (s) => s === standing)).toEqual([
      { kind: 'returned', atMs: 1, signature: 'hydrocarbon-oil' },
    ]);
  });

  test('is said anew when its numbers have moved by more than 0.15 decade for three scans', () => {
    const memory = draft(chamber);
    raisedOil(memory);
    for (let i = 0; i < 4; i++) followStanding(frameOf(chamber, oil(3e-9), { memory, times: 1 }), null);
    const moved = [];
    for (let i = 0; i < 3; i++) {
      const frame = frameOf(chamber, oil(9e-9), { memory, times: i === 0 ? 3 : 1 });
      const verdict = followStanding(frame, null);
      moved.push(verdict.moved.length);
      if (verdict.moved.length > 0) {
        const [event] = updateStanding(frame, verdict.moved);
        expect(event).toMatchObject({ kind: 'updated', signature: 'hydrocarbon-oil', priority: 'medium' });
        if (event?.kind === 'updated') expect(event.finding.summary).toContain('and grows');
      }
    }
    expect(moved).toEqual([0, 0, 1]);
  });

  test('two gases under one signature are one alert', () => {
    const memory = draft(chamber);
    const line = (cause: string) => ({
      ...{
        signature: 'gas-inleak' as const,
        cause,
        gases: [cause],
        priority: 'medium' as const,
        finding,
        lane: 'scan',
      },
      direction: null,
      observed: null,
      amplitude: 1,
      leastAmplitude: 1,
    });
    expect(raise(memory, 1, line('N2'))).toMatchObject({ kind: 'raised', gases: ['N2'] });
    expect(raise(memory, 2, line('SF6'))).toMatchObject({ kind: 'updated', gases: ['N2', 'SF6'] });
    expect(gasesOf(memory, 'gas-inleak')).toEqual(['N2', 'SF6']);
    expect(end(memory, 3, ({ cause }) => cause === 'N2')).toEqual([]);
    expect(end(memory, 4, ({ cause }) => cause === 'SF6')).toHaveLength(1);
  });

  test('a closed one is forgotten', () => {
    const memory = draft(chamber);
    raisedOil(memory);
    forget(memory, ['water']);
    expect(stands(memory, 'hydrocarbon-oil')).toBe(true);
    forget(memory, ['hydrocarbon-oil']);
    expect(memory.standing).toEqual([]);
  });
});

describe('argon alone', () => {
  const run = (amount: (scan: number) => number, scans: number, periodSeconds = 60) => {
    const memory = draft(chamber);
    memory.stateSinceMs = memory.lastAtMs! - 10 * 3_600_000;
    let verdict = null;
    for (let i = 0; i < scans; i++) {
      // Each frame stands a minute after the last.
      memory.lastAtMs! += (periodSeconds - 60) * 1000;
      const frame = frameOf(
        chamber,
        { ...peaks({ 40: 100, 20: 14 }, amount(i)), gauge: amount(i) },
        { memory, times: 1 },
      );
      verdict = followArgon(frame, triggersOf(frame.gasCauses, [], frame.baseline, frame.reference));
    }
    return verdict!;
  };

  test('that holds its height for ten minutes is a line', () => {
    expect(run(() => 1e-9, 10).line).toBe(false);
    expect(run(() => 1e-9, 11).line).toBe(true);
  });

  test('and for four scans, where a scan takes long', () => {
    expect(run(() => 1e-9, 3, 300).line).toBe(false);
    expect(run(() => 1e-9, 4, 300).line).toBe(true);
    // Slowly falling, and still there after an hour.
    expect(run((i) => 1e-8 * Math.exp(-i / 29), 75).line).toBe(false);
    // A pulse of three hours' distance falls by a factor e in some twenty minutes.
    expect(run((i) => 1e-9 * Math.exp(-i / 4.5), 8, 300).line).toBe(false);
  });

  test('that falls is not, until it has stayed an hour', () => {
    expect(run((i) => 1e-9 * Math.exp(-i / 10), 12).line).toBe(false);
  });

  test('three pulses at regular distances are bursts', () => {
    const pulses = run((i) => (i % 60 < 12 ? 1e-9 * Math.exp(-(i % 60) / 4) : 0), 190);
    expect(pulses).toMatchObject({ bursts: true });
    expect(pulses.meanIntervalSeconds!).toBeCloseTo(3600, -2);
  });
});

test('a new peak is called when the same mass has stood out for five scans', () => {
  const memory = draft(chamber);
  const { baseline } = frameOf(chamber, {}, { memory });
  const total = baseline.mean.slice(1).reduce((sum, v) => sum + Math.max(0, v), 0);
  const called = Array.from({ length: 7 }, () =>
    followNewPeak(frameOf(chamber, { 62: 0.02 * total }, { memory, times: 1 })),
  );
  // The middle of three holds the first two back: one spike is no peak.
  expect(called.indexOf(true)).toBeGreaterThanOrEqual(4);
  expect(called.at(-1)).toBe(true);
});
