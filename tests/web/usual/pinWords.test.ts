import { expect, test } from 'vitest';
import { inForce, scansOf, usualChanges, usualIn } from '../../../web/usual/pinWords.ts';
import { pins, usual } from '../fixture/alarms.ts';

const gas = (median: number) => ({ median, low: median / 1.3, high: median * 1.3, scans: 60 });

test('gases that would be judged otherwise come first, those that stay are counted', () => {
  const now = { H2O: gas(1e-7), N2: gas(1e-8), CO: gas(2e-9) };
  const { moved, same } = usualChanges(now, { H2O: gas(1e-8), N2: gas(1.1e-8), Ar: gas(1e-10) });
  expect(same).toBe(1);
  expect(moved.map(({ gas: name }) => name).sort()).toEqual(['Ar', 'CO', 'H2O']);
  expect(moved.find(({ gas: name }) => name === 'H2O')?.decades).toBeCloseTo(-1, 9);
  expect(moved.find(({ gas: name }) => name === 'Ar')).toMatchObject({ nowPa: null, decades: null });
});

test('a state without a baseline has none, and a pin counts only for its own state', () => {
  expect(usualIn(usual(0), 'bake')).toEqual({});
  expect(scansOf(usualIn(usual(0), 'base'))).toBe(1840);
  expect(inForce(pins(0, 'x-a'), 'transfer')?.version).toBe(1);
  expect(inForce(pins(0, 'x-a'), 'base')).toBeUndefined();
});
