/** The tail of a vent while gas is let in. Simulated; the shape of a tail is common practice. */
import { describe, expect, test } from 'vitest';
import { carriedTail } from '../../../shared/watch/carriedTail.ts';
import { typed } from '../../../shared/watch/channels.ts';
import type { Memory } from '../../../shared/watch/memory.ts';
import { referenceNow } from '../../../shared/watch/reference.ts';
import { followTail, startSettling } from '../../../shared/watch/settling.ts';
import { draft, watched } from '../../support/world/frames.ts';

const chamber = watched(31, { kind: 'process' });
const HOUR_MS = 3_600_000;

/** Water and oxygen at five times the usual some hours after a vent, seen in base; then gas is let in. */
function intoGas(): { memory: Memory; t0: number; at: (mass: number) => number } {
  const memory = draft(chamber);
  const base = memory.baselines.base!;
  const t0 = memory.lastAtMs!;
  const at = (mass: number) => base.masses.indexOf(mass) + 1;
  Object.assign(memory, { previousState: 'pump-down', stateSinceMs: t0, ventEndedAtMs: t0 - 5 * HOUR_MS });
  const q = typed(base.mean);
  for (const mass of [17, 18, 32]) q[at(mass)]! += 4 * base.mean[at(mass)]!;
  const start = startSettling(memory, base, { q, atMs: t0, forceShort: false });
  memory.carried = followTail(start, q, 60, base, t0 + 60_000);
  memory.baselines['gas-on'] = structuredClone(base);
  Object.assign(memory, { state: 'gas-on', previousState: 'base', stateSinceMs: t0 + HOUR_MS, settling: null });
  return { memory, t0, at };
}

const liftAt = ({ memory }: ReturnType<typeof intoGas>, atMs: number) => {
  const baseline = memory.baselines['gas-on']!;
  return carriedTail(memory, baseline, typed(baseline.mean), atMs);
};

describe('a tail that is carried into a state which lets gas in', () => {
  test('is expected there as it was seen in base, and less as it grows old', () => {
    const story = intoGas();
    const usual = story.memory.baselines['gas-on']!.mean[story.at(18)]!;
    const soon = liftAt(story, story.t0 + HOUR_MS)!;
    const late = liftAt(story, story.t0 + 200 * HOUR_MS)!;
    expect(soon.reference[story.at(18)]! / usual).toBeGreaterThan(4.5);
    expect(soon.lifted[story.at(18)]).toBe(1);
    // (1 + 200/5)^−0.3 is a third.
    expect(late.reference[story.at(18)]! / usual).toBeLessThan(3);
    expect(late.reference[story.at(18)]! / usual).toBeGreaterThan(1.5);
  });

  test('says nothing of gases that do not stick to walls, nor of what was as usual', () => {
    const story = intoGas();
    const { lifted } = liftAt(story, story.t0 + HOUR_MS)!;
    expect([lifted[0], lifted[story.at(32)], lifted[story.at(2)], lifted[story.at(44)]]).toEqual([0, 0, 0, 0]);
  });

  test('is part of the reference of the state, and of base nothing', () => {
    const story = intoGas();
    const { memory, t0, at } = story;
    const { spectrum, tail } = referenceNow(memory, memory.baselines['gas-on']!, t0 + HOUR_MS);
    expect(spectrum[at(18)]! - tail![at(18)]!).toBeCloseTo(memory.baselines['gas-on']!.mean[at(18)]!, 12);
    expect(carriedTail({ ...memory, state: 'base' }, memory.baselines.base!, typed([]), t0)).toBeNull();
    expect(liftAt({ ...story, memory: { ...memory, carried: null } }, t0)).toBeNull();
    const other = { ...memory.baselines['gas-on']!, masses: [...memory.baselines['gas-on']!.masses].reverse() };
    expect(carriedTail(memory, other, typed(other.mean), t0)).toBeNull();
  });
});
