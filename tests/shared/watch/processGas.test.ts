import { describe, expect, test } from 'vitest';
import { isLetIn } from '../../../shared/watch/processGas.ts';
import { groundOf } from '../../../shared/watch/ranking.ts';
import { backgroundTotal } from '../../../shared/watch/triggers.ts';
import { draft, frameOf, watched } from '../../support/world/frames.ts';

const chamber = watched(41);
const { own, mean } = draft(chamber).baselines.base!;
/** The baseline of base with argon (peaks at 40 and 20: 100 to 15, CRC Handbook) let in to 300 times the total. */
function flowing() {
  const memory = draft(chamber);
  const base = memory.baselines.base!;
  const total = mean.slice(1).reduce((sum, value) => sum + Math.max(0, value), 0);
  const argon = base.masses.map((mass) => (mass === 40 ? 300 * total : mass === 20 ? 45 * total : 0));
  const pressurePa = 300 * own.reduce((sum, gas) => sum + gas.pressurePa, 0);
  const gas = { ...base, mean: base.mean.map((value, m) => value + (argon[m - 1] ?? 0)) };
  gas.own = [...own.filter((entry) => entry.gas !== 'Ar'), { ...own[0]!, gas: 'Ar', pressurePa }];
  memory.baselines['gas-on'] = gas;
  memory.state = 'gas-on';
  return { memory, gas, total };
}

describe('what a state lets in', () => {
  test('is what makes a fifth of it or more, and only where gas is let in', () => {
    const gas = { ...own[0]!, pressurePa: 3 };
    const memory = { ...draft(chamber), baselines: {} };
    const at = (state: string) => ({ ...memory, state });
    expect([isLetIn(gas, at('gas-on'), 10), isLetIn(gas, at('gas-on'), 20), isLetIn(gas, at('base'), 10)]).toEqual([
      true,
      false,
      false,
    ]);
  });

  test('is a small flow as well, where it is far more than the chamber has at rest', () => {
    const memory = { ...draft(chamber), state: 'gas-on' };
    const atRest = own[0]!.pressurePa;
    const flow = (times: number) => ({ ...own[0]!, pressurePa: times * atRest });
    expect(isLetIn(flow(50), memory, 1000 * atRest)).toBe(true);
    expect(isLetIn(flow(50), memory, 5000 * atRest)).toBe(false);
    expect(isLetIn(flow(20), memory, 500 * atRest)).toBe(false);
    expect(isLetIn({ ...flow(50), gas: 'NF3' }, memory, 1000 * atRest)).toBe(true);
    expect(isLetIn(flow(50), { ...memory, state: 'base' }, 1000 * atRest)).toBe(false);
  });

  test('makes a trace of something else no smaller: it is held against what the chamber has at rest', () => {
    const { memory, gas, total } = flowing();
    expect(backgroundTotal(memory, gas) / total).toBeCloseTo(1, 9);
    expect(backgroundTotal({ ...memory, state: 'cool-down' }, gas) / total).toBeGreaterThan(300);
    const { base: _, ...unknown } = memory.baselines;
    expect(backgroundTotal({ ...memory, baselines: unknown }, gas) / total).toBeGreaterThan(300);
  });

  test('is no name for a change while it is', () => {
    const { memory, gas } = flowing();
    const frame = { ...frameOf(chamber, {}), memory, baseline: gas };
    const names = (of: typeof frame) => groundOf(of).gasCauses.map(({ id }) => id);
    expect(names(frame)).not.toContain('Ar');
    expect(names(frame)).toContain('air');
    expect(names({ ...frame, memory: { ...memory, state: 'base' } })).toContain('Ar');
  });
});
