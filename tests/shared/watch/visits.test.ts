import { describe, expect, test } from 'vitest';
import { emptyMemory } from '../../../shared/watch/memory.ts';
import { startSettling } from '../../../shared/watch/settling.ts';
import { copyStateBook, emptyStateBook } from '../../../shared/watch/stateMemory.ts';
import { changeState } from '../../../shared/watch/timeline.ts';
import { rememberHabit, rememberVisit } from '../../../shared/watch/visits.ts';
import { draft, watched } from '../../support/world/frames.ts';

const chamber = watched(31, { kind: 'process' });

describe('what short states let in', () => {
  test('the habit holds the largest, and fades by a third when less is let in', () => {
    const memory = emptyMemory('1', 'gas-on', 0);
    rememberVisit(memory, new Float64Array([1, 10, 2]), [28, 40]);
    rememberHabit(memory);
    rememberVisit({ ...memory, visit: null }, new Float64Array([1, 1, 1]), [28, 40]);
    memory.visit = { masses: [28, 40], highest: [1, 1, 3] };
    rememberHabit(memory);
    expect(memory.states.habit).toEqual({ masses: [28, 40], highest: [1, 7, 3] });
  });

  test('a gap is granted a tail of what is let in by habit, and of nothing else', () => {
    const memory = draft(chamber);
    const baseline = memory.baselines.base!;
    const at = (mass: number) => baseline.masses.indexOf(mass) + 1;
    const q = new Float64Array(baseline.mean);
    q[at(40)]! += 1e-8;
    q[at(18)]! *= 2;
    const highest = baseline.mean.map((mean, m) => (m === at(40) ? 1e-4 : mean));
    memory.states = { ...memory.states, habit: { masses: baseline.masses, highest } };
    const { granted } = startSettling(memory, baseline, { q, atMs: memory.lastAtMs!, forceShort: true });
    expect(granted[at(40)]!).toBeGreaterThan(1e-8);
    expect(granted[at(18)]!).toBe(0);
  });

  test('after a vent oxygen, argon and helium are no part of the direction that is free to stay', () => {
    const memory = draft(chamber);
    const baseline = memory.baselines.base!;
    const at = (mass: number) => baseline.masses.indexOf(mass) + 1;
    Object.assign(memory, { previousState: 'pump-down', stateSinceMs: memory.lastAtMs! });
    const q = Float64Array.from(baseline.mean, (mean) => 3 * mean + 1e-8);
    const { direction } = startSettling(memory, baseline, { q, atMs: memory.lastAtMs!, forceShort: false });
    expect([4, 32, 40].map((mass) => direction[at(mass)])).toEqual([0, 0, 0]);
    expect(direction[at(18)]!).toBeGreaterThan(0);
  });
});

test('the age of a pump-down counts from the vent, not from the state that follows it', () => {
  const memory = emptyMemory('1', 'vented', 0);
  changeState(memory, 'pump-down', 2000);
  changeState(memory, 'base', 90_000);
  expect(memory.ventEndedAtMs).toBe(2000);
});

test('a memory of before holds no book of states: it begins empty', () => {
  expect(copyStateBook(undefined)).toEqual(emptyStateBook());
});
