import { describe, expect, test } from 'vitest';
import { airCause } from '../../../shared/watch/airCause.ts';
import type { Cause } from '../../../shared/watch/cause.ts';
import { causesOf } from '../../../shared/watch/causes.ts';
import { makeWorld } from '../../support/world/chamber.ts';
import { contextOf } from '../../support/world.ts';

const masses = Array.from({ length: 150 }, (_, i) => i + 1);
const world = makeWorld(1);
const context = contextOf({ ...world, kind: 'baked' });
const withGases = (gases: string[]) => ({ ...context, chamber: { ...context.chamber, gases } });
const find = (causes: readonly Cause[], id: string) => causes.find((cause) => cause.id === id);

describe('air', () => {
  const even = { ...context, chamber: { ...context.chamber, pumpingSpeedLitresPerSecond: { N2: 100 } } };
  const [whole, eaten] = airCause(even, masses).triggers as [Float64Array, Float64Array];

  test('has the peaks that air is known by: 28/32 about 3.9 and 40/28 about 1.7 % (ion yields of the CRC Handbook)', () => {
    expect(whole[28]! / whole[32]!).toBeGreaterThan(3.5);
    expect(whole[28]! / whole[32]!).toBeLessThan(4.6);
    expect(whole[40]! / whole[28]!).toBeGreaterThan(0.014);
    expect(whole[40]! / whole[28]!).toBeLessThan(0.019);
  });

  test('without its oxygen it still has its argon', () => {
    expect(eaten[32]! / eaten[28]!).toBeLessThan(0.01);
    expect(eaten[40]! / eaten[28]!).toBeCloseTo(whole[40]! / whole[28]!, 2);
  });

  test('what the pumps take faster shows less: P = Q x / S', () => {
    const speeds = { N2: 200, Ar: 100 };
    const fast = airCause({ ...even, chamber: { ...even.chamber, pumpingSpeedLitresPerSecond: speeds } }, masses);
    const ratio = (d: Float64Array) => d[40]! / d[28]!;
    expect(ratio(fast.triggers[1]!)).toBeCloseTo(2 * ratio(eaten), 2);
  });
});

describe('gases from lines', () => {
  test('a gas that the chamber names is watched and as likely as any; another one only competes', () => {
    const named = find(causesOf(withGases(['NF3']), masses), 'NF3')!;
    expect(named).toMatchObject({ signature: 'gas-inleak', prior: 0 });
    expect(named.triggers).toHaveLength(1);
    const unnamed = find(causesOf(withGases([]), masses), 'NF3')!;
    expect(unnamed.triggers).toHaveLength(0);
    expect(unnamed.prior).toBeLessThan(0);
  });

  test('sulfur hexafluoride is watched everywhere: it is a tracer', () => {
    expect(find(causesOf(withGases([]), masses), 'SF6')!.triggers).toHaveLength(1);
  });

  test('names are resolved, and no gas competes twice', () => {
    const ids = causesOf(withGases(['sulfur hexafluoride', 'Ar']), masses).map(({ id }) => id);
    expect(ids.filter((id) => id === 'SF6')).toHaveLength(1);
    expect(ids.filter((id) => id === 'Ar')).toHaveLength(1);
    expect(new Set(ids).size).toBe(ids.length);
  });
});

test('a cause none of whose masses is scanned cannot be judged', () => {
  const causes = causesOf(withGases([]), [2, 18, 28, 32, 40, 44]);
  expect(find(causes, 'silicone')).toBeUndefined();
  expect(find(causes, 'He')).toBeUndefined();
  expect(find(causes, 'air')).toBeDefined();
});
