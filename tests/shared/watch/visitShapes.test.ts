import { describe, expect, test } from 'vitest';
import type { VisitShape } from '../../../shared/watch/stateMemory.ts';
import { habitualShape, higherShape, isOtherMixture, rememberVisitShape } from '../../../shared/watch/visitShapes.ts';
import { AIR, AR, both, type Change, N2, NF3, story, times } from '../../support/world/gasStory.ts';

/** Silicon tetrafluoride: nearly all of it is SiF3 at 85, with SiF at 47 (from memory, rounded). Acetone: NIST WebBook, rounded (from memory). */
const SIF4 = { 85: 100, 86: 5, 87: 3.4, 47: 8, 33: 5, 66: 3 };
const ACETONE = { 43: 100, 58: 34, 15: 30, 42: 7, 27: 8 };

const MASSES = [14, 28, 32, 40, 52, 85];
const spectrum = (heights: Change, factor = 1) => [0, ...MASSES.map((mass) => (heights[mass] ?? 0) * factor)];
const visited = (heights: Change, { factor = 1, seconds = 1500, atMs = 0 } = {}) => ({
  masses: MASSES,
  excess: spectrum(heights, factor),
  atMs,
  seconds,
});
const seen = (heights: Change, factor = 1) => ({ masses: MASSES, above: spectrum(heights, factor) });
const knownAfter = (...visits: ReturnType<typeof visited>[]) =>
  visits.reduce<readonly VisitShape[]>((known, visit) => rememberVisitShape(known, visit), []);

describe('a visit is known', () => {
  test('from the third on, by its mixture and level', () => {
    expect(habitualShape(knownAfter(visited(NF3), visited(NF3)), seen(NF3), [])).toBeNull();
    const known = knownAfter(visited(NF3), visited(NF3, { factor: 1.5, seconds: 2000 }), visited(NF3));
    expect(habitualShape(known, seen(NF3), [])).toMatchObject({ visits: 3, seconds: 2000 });
    expect(habitualShape(known, seen(NF3, 4), [])).toBeNull();
    expect(habitualShape(known, seen(both(NF3, SIF4)), [])).toBeNull();
    expect(habitualShape(known, { ...seen(NF3), masses: MASSES.map((mass) => mass + 1) }, [])).toBeNull();
  });

  test('but air never', () => {
    expect(habitualShape(knownAfter(visited(AIR), visited(AIR), visited(AIR)), seen(AIR), [])).toBeNull();
  });

  test('if it is no pulse', () => {
    expect(knownAfter(visited(NF3, { seconds: 60 }))).toEqual([]);
  });

  test('ten of them at most, latest first', () => {
    const many = Array.from({ length: 12 }, (_, i) => visited({ [MASSES[i % 6]!]: 10 ** i }, { atMs: i }));
    const known = knownAfter(...many);
    expect(known.map(({ usedAtMs }) => usedAtMs)).toEqual([11, 10, 9, 8, 7, 6, 5, 4, 3, 2]);
  });
});

test('its spectrum is the one at its height', () => {
  const low = higherShape(undefined, { ...seen(NF3), total: 3 });
  expect(higherShape(low, { ...seen(SIF4), total: 2 })).toBe(low);
  const high = higherShape(low, { masses: MASSES, above: [0, Number.NaN, 2, 3, 4, 5, 6], total: 5 });
  expect(high).toEqual({ masses: MASSES, excess: [0, 0, 2, 3, 4, 5, 6], total: 5 });
  expect([isOtherMixture(low, seen(NF3, 9).above), isOtherMixture(low, seen(SIF4).above)]).toEqual([false, true]);
  expect(isOtherMixture(undefined, seen(SIF4).above)).toBe(false);
});

/** Minute at which each alert was raised. */
const minutes = ({ raised }: { raised: readonly string[] }) => raised.map((text) => Number(text.split(' ')[1]));

describe('where no state is ever sent', () => {
  const mixture = both(times(20, NF3), times(15, SIF4));
  const visit = (told: ReturnType<typeof story>, change: Change) => {
    told.go(25, 'base', change);
    told.go(95, 'base');
  };

  test('a mixture that nobody has listed is called three times, and then is a recipe of the chamber', () => {
    const told = story([]);
    told.go(20, 'base');
    for (let i = 0; i < 6; i++) visit(told, mixture);
    const called = new Set(minutes(told).map((minute) => Math.floor((minute - 20) / 120)));
    expect([...called]).toEqual([0, 1, 2]);
    expect(told.states.filter((text) => text.startsWith('gas-on'))).toEqual(['gas-on 381', 'gas-on 501', 'gas-on 621']);
  });

  test('what stays much longer than its visits is called', () => {
    const told = story([]);
    told.go(20, 'base');
    for (let i = 0; i < 4; i++) visit(told, mixture);
    const before = told.raised.length;
    told.go(80, 'base', mixture);
    const late = minutes(told).slice(before);
    expect(late.length).toBeGreaterThan(0);
    // Twice the longest visit.
    expect(Math.min(...late) - 500).toBeGreaterThan(50);
    expect(Math.min(...late) - 500).toBeLessThan(60);
  });

  test('one known visit may follow another without a pause', () => {
    const told = story([]);
    told.go(20, 'base');
    for (let i = 0; i < 3; i++) {
      visit(told, mixture);
      visit(told, times(20, N2));
    }
    const before = told.raised.length;
    told.go(20, 'base', times(20, N2));
    told.go(25, 'base', mixture);
    told.go(95, 'base');
    expect(told.raised.slice(before)).toEqual([]);
  });

  test('a solvent is no visitor, however often it comes', () => {
    const told = story([]);
    told.go(20, 'base');
    for (let i = 0; i < 6; i++) visit(told, times(4, ACETONE));
    const solvents = told.raised.filter((text) => text.startsWith('solvent'));
    const called = solvents.map((text) => Math.floor((Number(text.split(' ')[1]) - 20) / 120));
    expect(called).toEqual([0, 1, 2, 3, 4, 5]);
  });

  test('small puffs of nitrogen are a habit as well', () => {
    const told = story([]);
    told.go(20, 'base');
    for (let i = 0; i < 5; i++) {
      told.go(10, 'base', times(0.7, N2));
      told.go(110, 'base');
    }
    const called = new Set(minutes(told).map((minute) => Math.floor((minute - 20) / 120)));
    expect([...called]).toEqual([0, 1]);
  });

  test('nitrogen that came to stay is no new visit because it moves by a third', () => {
    const told = story([]);
    told.go(20, 'base');
    for (let i = 0; i < 3; i++) {
      told.go(10, 'base', times(4, N2));
      told.go(110, 'base');
    }
    const before = told.states.length;
    told.go(40, 'base', times(4, N2));
    for (let i = 0; i < 3; i++) {
      told.go(2, 'base', times(2.4, N2));
      told.go(30, 'base', times(4, N2));
    }
    // One visit, taken for a transfer until it had lasted too long.
    expect(told.states.slice(before).map((text) => text.split(' ')[0])).toEqual(['transfer', 'base']);
  });

  test('argon beside it does not make it another', () => {
    const told = story(['Ar']);
    told.go(20, 'base');
    for (let i = 0; i < 5; i++) visit(told, both(mixture, times(3, AR)));
    const called = new Set(minutes(told).map((minute) => Math.floor((minute - 20) / 120)));
    expect([...called].every((which) => which < 3)).toBe(true);
  });
});
