/** What people set for a signature: it moves priorities, states, bands and delays, and never blinds the watch. */
import { describe, expect, test } from 'vitest';
import { isArmed, onDelayScans, widened } from '../../../shared/watch/rules.ts';
import type { SignatureRule } from '../../../shared/watch/types.ts';
import { makeWorld } from '../../support/world/chamber.ts';
import { raisedOf, runWorld } from '../../support/world/run.ts';
import { SCENARIOS } from '../../support/world/scenarios.ts';
import { contextOf } from '../../support/world.ts';

function run(name: string, rules: readonly SignatureRule[]) {
  const scenario = SCENARIOS[name]!;
  const world = makeWorld(9001, scenario.world);
  return runWorld(world, scenario.options(world), { context: { ...contextOf(world), rules } });
}

const signatures = (name: string, rules: readonly SignatureRule[]) =>
  raisedOf(run(name, rules)).map(({ event }) => event.signature);
const first = (name: string, rules: readonly SignatureRule[]) => raisedOf(run(name, rules))[0]!;

describe('a rule', () => {
  test('takes the place of the usual priority, of what is named and of faults of the data', () => {
    expect(first('oil', []).event).toMatchObject({ signature: 'hydrocarbon-oil', priority: 'medium' });
    expect(first('oil', [{ signature: 'hydrocarbon-oil', priority: 'high' }]).event).toMatchObject({
      priority: 'high',
    });
    expect(first('frozen values', [{ signature: 'frozen', priority: 'low' }]).event).toMatchObject({
      signature: 'frozen',
      priority: 'low',
    });
  });

  test('keeps a signature quiet in a state that it leaves out, and no other', () => {
    expect(signatures('oil', [{ signature: 'hydrocarbon-oil', armedStates: ['gas-on'] }])).toEqual([]);
    expect(signatures('oil', [{ signature: 'hydrocarbon-oil', armedStates: ['base'] }])).toEqual(['hydrocarbon-oil']);
    expect(signatures('oil', [{ signature: 'water', armedStates: [] }])).toEqual(['hydrocarbon-oil']);
  });

  test('cannot hide that the analyser is blind', () => {
    for (const signature of ['frozen', 'silent', 'noise', 'detector-saturated'] as const)
      expect(isArmed({ ...contextOf(makeWorld(1)), rules: [{ signature, armedStates: [] }] }, signature, 'base')).toBe(
        true,
      );
    expect(signatures('frozen values', [{ signature: 'frozen', armedStates: [] }])).toEqual(['frozen']);
    expect(signatures('noisy scans', [{ signature: 'noise', armedStates: ['gas-on'] }])).toEqual(['noise']);
  });

  test('lengthens the on-delay of a cause', () => {
    const delay = first('oil', [{ signature: 'hydrocarbon-oil', onDelayScans: 12 }]).seconds - first('oil', []).seconds;
    expect(delay).toBeGreaterThanOrEqual(9 * 60);
    expect(delay).toBeLessThanOrEqual(12 * 60);
    expect(onDelayScans({ ...contextOf(makeWorld(1)) }, 'water')).toBe(0);
  });

  test('widens the dead band, and never narrows it', () => {
    // Water at three times the usual is half a decade.
    expect(signatures('water', [{ signature: 'water', leastDecades: 0.7 }])).not.toContain('water');
    expect(signatures('water', [{ signature: 'water', leastDecades: 0.3 }])).toContain('water');
    const context = { ...contextOf(makeWorld(1)), rules: [{ signature: 'water' as const, leastDecades: 0.01 }] };
    expect(widened(context, 'water', { least: 1e-9, instrument: false })).toBe(1e-9);
    const wide = { ...context, rules: [{ signature: 'water' as const, leastDecades: 0.2 }] };
    // (10^0.2 − 1) / (10^0.1 − 1) = 2.259
    expect(widened(wide, 'water', { least: 1e-9, instrument: false }) / 1e-9).toBeCloseTo(2.259, 3);
  });
});
