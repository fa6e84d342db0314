import { describe, expect, test } from 'vitest';
import { isPuff, isStep } from '../../../shared/watch/episodes.ts';
import { AIR, AR, both, type Change, CO2, N2, NF3, story, times } from '../../support/world/gasStory.ts';

/** The minute of the first alert. */
const calledAt = ({ raised }: { raised: readonly string[] }) => Number(raised[0]?.split(' ')[1]);

test('a step is twice the usual and twice the scan before it', () => {
  const after = (total: number | null, now: number) => isStep({ running: null, total, habits: {} }, now);
  expect([after(1, 2), after(1, 1.9), after(1.5, 2.9), after(1.5, 3), after(null, 9)]).toEqual([
    true,
    false,
    false,
    true,
    false,
  ]);
});

test('a puff is a third more than usual', () => {
  const after = (total: number | null, now: number) => isPuff({ running: null, total, habits: {} }, now);
  expect([after(1, 1.31), after(1, 1.29), after(1.2, 1.5), after(null, 9)]).toEqual([true, false, false, false]);
});

describe('gases of the list that nobody has announced', () => {
  test('two of them together are gas-on, from the first to the last scan', () => {
    const told = story(['Ar', 'NF3']);
    told.go(20, 'base');
    told.go(40, 'base', both(times(40, AR), times(30, NF3)));
    told.go(90, 'base');
    expect(told.states).toEqual(['base 1', 'gas-on 21', 'base 61']);
    expect(told.raised).toEqual([]);
  });

  test('nitrogen with argon by the flow is no air, air is air', () => {
    const told = story(['N2', 'Ar']);
    told.go(20, 'base');
    told.go(30, 'base', both(times(60, N2), times(10, AR)));
    told.go(60, 'base');
    expect(told.states).toEqual(['base 1', 'gas-on 21', 'base 51']);
    expect(told.raised).toEqual([]);
    told.go(5, 'base', times(60, AIR));
    expect(told.raised[0]).toMatch(/^air-leak 11[1-4]$/);
  });

  test('is told by the second scan where the valve opened in the first', () => {
    const told = story(['Ar', 'NF3']);
    told.go(20, 'base');
    told.go(1, 'base', both(times(25, AR), times(15, CO2)));
    told.go(30, 'base', both(times(40, AR), times(10, NF3)));
    told.go(30, 'base');
    expect(told.states).toEqual(['base 1', 'gas-on 22', 'base 52']);
    expect(told.raised).toEqual([]);
  });

  test('much more than was ever declared is called', () => {
    const told = story(['N2']);
    told.go(20, 'base');
    told.go(30, 'gas-on', times(15, N2));
    told.go(60, 'base');
    told.go(5, 'base', times(60, N2));
    expect(told.states).not.toContain('gas-on 111');
    expect(calledAt(told)).toBeLessThan(115);
  });
});

describe('what looks like something that a declared state let in', () => {
  const declaredTwice = (gas: Change = times(5, CO2)) => {
    const told = story([]);
    told.go(20, 'base');
    for (let i = 0; i < 2; i++) {
      told.go(20, 'plasma', gas);
      told.go(70, 'base');
    }
    return told;
  };

  test('is judged as in that state, and nothing is learned from it', () => {
    const told = declaredTwice();
    const before = told.memory();
    told.go(25, 'base', times(6, CO2));
    for (const state of ['base', 'plasma'])
      expect(told.memory().baselines[state]!.mean).toEqual(before.baselines[state]!.mean);
    expect(told.memory().states.recipes).toEqual(before.states.recipes);
    expect(told.memory().states.letIn).toEqual(before.states.letIn);
    told.go(60, 'base');
    expect(told.states.slice(-2)).toEqual(['plasma 201', 'base 226']);
    expect(told.raised).toEqual([]);
  });

  test('and stays, is called once it has lasted longer than any of them', () => {
    const told = declaredTwice();
    told.go(60, 'base', times(5, CO2));
    // Twice twenty minutes.
    expect(told.states.slice(-2)).toEqual(['plasma 201', expect.stringMatching(/^base 2(39|40|41)$/)]);
    expect(calledAt(told)).toBeGreaterThan(238);
    expect(calledAt(told)).toBeLessThanOrEqual(244);
    told.go(60, 'base', times(5, CO2));
    expect(told.states.at(-1)).toMatch(/^base 2/);
  });

  test('at another level is called at once', () => {
    const told = declaredTwice();
    told.go(5, 'base', times(20, CO2));
    expect(told.states).not.toContain('plasma 201');
    expect(calledAt(told)).toBeLessThan(205);
  });

  test('but is another gas is called at once', () => {
    const told = declaredTwice();
    told.go(5, 'base', times(5, N2));
    expect(told.states).not.toContain('plasma 201');
    expect(calledAt(told)).toBeLessThan(205);
  });

  test('but grows is called as soon as it has grown by half', () => {
    const told = declaredTwice();
    told.go(40, 'base', times(5, CO2), 1.03);
    expect(told.states).toContain('plasma 201');
    // 1.03¹⁴ = 1.51: within an on-delay of it.
    expect(calledAt(told)).toBeGreaterThan(201);
    expect(calledAt(told)).toBeLessThan(223);
  });

  test('air is called at once where nitrogen is let in, with its oxygen or without', () => {
    for (const air of [AIR, { ...AIR, 32: 1, 16: 0 }]) {
      const told = declaredTwice(times(5, N2));
      told.go(5, 'base', times(5, air));
      expect(told.states).not.toContain('plasma 201');
      expect(told.raised[0]).toMatch(/^(air-leak|gas-inleak) 20[1-4]$/);
    }
  });
});

describe('a state that is sent late', () => {
  test('the gas is there a scan before, and two scans after', () => {
    const told = story(['Ar']);
    told.go(20, 'base');
    for (let i = 0; i < 3; i++) {
      told.go(1, 'base', times(40, AR));
      told.go(25, 'gas-on', times(40, AR));
      told.go(2, 'base', times(40, AR));
      told.go(70, 'base');
    }
    expect(told.raised).toEqual([]);
    expect(told.states.slice(0, 3)).toEqual(['base 1', 'gas-on 21', 'base 49']);
  });

  test('what does not go with it is called', () => {
    const told = story(['N2']);
    told.go(20, 'base');
    told.go(25, 'gas-on', times(40, N2));
    told.go(30, 'base', times(40, N2));
    // Ten minutes, and an on-delay.
    expect(calledAt(told)).toBeGreaterThan(55);
    expect(calledAt(told)).toBeLessThan(60);
  });
});
