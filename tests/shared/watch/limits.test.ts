import { describe, expect, test } from 'vitest';
import { OPERATING_STATES } from '../../../shared/contract/words.ts';
import { judgeImpossible, learnKappa, partialsAboveTotal, usualKappa } from '../../../shared/watch/impossible.ts';
import { judgeLimits } from '../../../shared/watch/limits.ts';
import { emptyMemory } from '../../../shared/watch/memory.ts';
import { rescaleKappa } from '../../../shared/watch/rescale.ts';
import { ARMED_STATES, GAS_STATES, LIMIT_STATES, SHORT_STATES, SILENT_STATES } from '../../../shared/watch/states.ts';
import { watched } from '../../support/world/frames.ts';

const { context, last } = watched(41, {}, 3);
const water = (valuePa: number, spread = 1.3) => [
  { gas: 'H2O', valuePa, lowPa: valuePa / spread, highPa: valuePa * spread, detected: true, sigmaPa: valuePa / 20 },
];
const limited = { ...context, limits: [{ gas: 'water', limitPa: 1e-6, priority: 'high' as const }] };

describe('limits that people set', () => {
  const run = (values: number[]) => {
    const memory = emptyMemory('1', 'base', 0);
    return values.flatMap((value, i) =>
      judgeLimits(memory, limited, water(value), i).map(({ kind }) => `${i} ${kind}`),
    );
  };

  test('three scans above by more than the interval, five a tenth of a decade below', () => {
    const above = [2e-6, 2e-6, 2e-6, 2e-6];
    expect(run([...above, ...Array(6).fill(0.7e-6)])).toEqual(['2 raised', '8 returned']);
  });

  test('above, but not by more than the interval: nothing', () => expect(run(Array(10).fill(1.2e-6))).toEqual([]));

  test('back, but within the dead band: it stands', () => {
    expect(run([2e-6, 2e-6, 2e-6, ...Array(10).fill(0.85e-6)])).toEqual(['2 raised']);
  });

  test('a gas by any of its names; a limit that was taken away calls no longer', () => {
    const memory = emptyMemory('1', 'base', 0);
    for (let i = 0; i < 3; i++) judgeLimits(memory, limited, water(2e-6), i);
    expect(memory.standing[0]).toMatchObject({ signature: 'limit', gases: ['H2O'], priority: 'high' });
    expect(judgeLimits(memory, context, water(2e-6), 4)).toMatchObject([{ kind: 'returned', signature: 'limit' }]);
  });

  test('the sentence names limit and value', () => {
    const memory = emptyMemory('1', 'base', 0);
    const [event] = [0, 1, 2].flatMap((i) => judgeLimits(memory, limited, water(3.3e-6), i));
    if (event?.kind !== 'raised') throw new Error('not raised');
    expect(event.finding.summary).toBe(
      'Water is above its limit of 1.0×10⁻⁶\u00a0Pa: 3.3×10⁻⁶\u00a0Pa (2.5–4.3). Nearly certain.',
    );
  });
});

describe('partial pressures above the total', () => {
  const analysis = (kappa: number | null, spread = 1.3) => ({ ...last.analysis, kappa, gases: water(1e-6, spread) });
  const run = (kappas: number[], spread?: number) => {
    const memory = emptyMemory('1', 'base', 0);
    return kappas.flatMap((kappa, i) => {
      if (kappa === 1) learnKappa(memory, kappa);
      return judgeImpossible(memory, analysis(kappa, spread), i).map(({ kind }) => `${i} ${kind}`);
    });
  };

  test('a gauge that falls to a half is called after three scans and returns after five', () => {
    expect(run([...Array(10).fill(1), 0.5, 0.5, 0.5, 0.5, ...Array(6).fill(1)])).toEqual(['12 raised', '18 returned']);
  });

  test('tens of per cent between gauge and analyser are honest', () => {
    expect(run([...Array(10).fill(1), ...Array(10).fill(0.8)])).toEqual([]);
    expect(run(Array(10).fill(0.6))).toEqual([]);
  });

  test('from the first scan on only when even the lower bounds are a third above the gauge', () => {
    expect(run(Array(4).fill(0.4))).toEqual(['2 raised']);
    expect(run(Array(4).fill(0.4), 3)).toEqual([]);
  });

  test('what is usual is told by state: argon reads otherwise than water, and while gas is let in nothing is', () => {
    const memory = emptyMemory('1', 'base', 0);
    learnKappa(memory, 0.6);
    for (const state of ['gas-on', 'plasma', 'cool-down']) {
      memory.state = state;
      for (let i = 0; i < 50; i++) learnKappa(memory, 1.1);
    }
    expect(usualKappa(memory)).toBeCloseTo(1.1, 9);
    rescaleKappa(memory, 2);
    expect(usualKappa(memory)).toBeCloseTo(2.2, 9);
    rescaleKappa(memory, 0.5);
    memory.state = 'gas-on';
    expect(usualKappa(memory)).toBeNull();
    memory.state = 'base';
    expect(usualKappa(memory)).toBeCloseTo(0.6, 9);
    expect([0, 1, 2, 3].flatMap((i) => judgeImpossible(memory, analysis(0.55, 3), i))).toEqual([]);
  });

  test('without a gauge there is nothing to be above', () => {
    expect(judgeImpossible(emptyMemory('1', 'base', 0), analysis(null), 0)).toEqual([]);
    expect([partialsAboveTotal(null), partialsAboveTotal(0.9), partialsAboveTotal(0.5)]).toEqual([false, false, true]);
  });
});

test('operating states: what arms is a state of the contract, and a vent arms nothing', () => {
  for (const set of [ARMED_STATES, GAS_STATES, LIMIT_STATES, SHORT_STATES, SILENT_STATES]) {
    for (const state of set) expect(OPERATING_STATES as readonly string[]).toContain(state);
  }
  for (const state of ['vented', 'roughing', 'pump-down', 'bake', 'regenerating', 'maintenance']) {
    expect(ARMED_STATES.has(state), state).toBe(false);
  }
  for (const state of LIMIT_STATES) expect(ARMED_STATES.has(state)).toBe(true);
});
