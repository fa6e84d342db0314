/** Truth by construction; the robust z itself answers to numpy and scipy in tests/reference/comparing.test.ts. */
import { describe, expect, test } from 'vitest';
import { amongSisters, LEAST_SISTERS, type Sister, type SisterGas } from '../../../shared/measurement/sisters.ts';
import { normals } from './normals.ts';

const gas = (pressurePa: number | null, changed: Partial<SisterGas> = {}): SisterGas => ({
  lnPa: pressurePa === null ? null : Math.log(pressurePa),
  limitPa: pressurePa === null ? 1e-11 : null,
  lasting: 0.1,
  drift: pressurePa === null ? null : { ln: 0, halfLn: 0.3 },
  ...changed,
});
const sister = (id: string, gases: Readonly<Record<string, SisterGas>>): Sister => ({
  id,
  gases: new Map(Object.entries(gases)),
});
const sisters = (pressures: readonly (number | null)[], changed: Partial<SisterGas> = {}) =>
  pressures.map((pressure, k) => sister(`s${k}`, { N2: gas(pressure, changed) }));
const of = (own: SisterGas, others: readonly Sister[]) => amongSisters(sister('own', { N2: own }), others)[0];

const USUAL = [7e-9, 8e-9, 9e-9, 1e-8, 8.5e-9];

describe('one chamber among its sisters', () => {
  test('the odd one out, by level and by drift', () => {
    const leaking = gas(3e-7, { drift: { ln: Math.log(39), halfLn: 0.3 } });
    expect(of(leaking, sisters(USUAL))).toMatchObject({ so: 'level and drift', seenBy: 5, unseenBy: 0 });
  });

  test('always higher than they are, without having moved', () => {
    expect(of(gas(3e-7), sisters(USUAL))?.so).toBe('level only');
  });

  test('moved, but still among them', () => {
    expect(of(gas(8.2e-9, { drift: { ln: 1.2, halfLn: 0.3 } }), sisters(USUAL))?.so).toBe('drift only');
  });

  test('as they are', () => {
    const found = of(gas(8.2e-9), sisters(USUAL));
    expect(found?.so).toBe('alike');
    expect(Math.abs(found?.level?.z as number)).toBeLessThan(1);
  });

  test('equal by luck: a difference smaller than measuring makes is none', () => {
    const twins = [8e-9, 8e-9, 8.01e-9, 8e-9, 8e-9];
    expect(of(gas(9.5e-9), sisters(twins))?.so).toBe('alike');
  });

  test('too few sisters: cannot tell, however far it lies', () => {
    for (let n = 0; n < LEAST_SISTERS; n++) expect(of(gas(3e-7), sisters(USUAL.slice(0, n)))?.so).toBe('too few');
  });

  test('the middle is that of its sisters: its own value is never in it, and too few of them have none', () => {
    // Of four the middle is half way between the second and the third.
    expect(of(gas(3e-7), sisters([7e-9, 8e-9, 9e-9, 1e-8]))?.middleLn).toBeCloseTo(Math.log(Math.sqrt(8e-9 * 9e-9)), 9);
    for (let n = 0; n < LEAST_SISTERS; n++)
      expect(of(gas(3e-7), sisters(USUAL.slice(0, n)))).toMatchObject({ middleLn: null, middleDriftLn: null });
  });

  test('one cause that they share is said, and only when more than half moved to one side', () => {
    const moved = { drift: { ln: 1.1, halfLn: 0.3 } };
    const others = [...sisters(USUAL.slice(0, 3), moved), ...sisters(USUAL.slice(3))];
    const found = of(gas(8.2e-9, moved), others);
    expect(found).toMatchObject({ so: 'shared', shared: { moved: 4, of: 6 } });
    const split = [
      ...sisters(USUAL.slice(0, 2), moved),
      ...sisters(USUAL.slice(2), { drift: { ln: -1.1, halfLn: 0.3 } }),
    ];
    expect(of(gas(8.2e-9, moved), split)?.shared).toBeNull();
  });

  test('seen only here: above what its sisters would have seen', () => {
    expect(of(gas(1e-9), sisters([null, null, null, null, null]))?.so).toBe('seen only here');
    expect(of(gas(1e-11), sisters([null, null, null, null, null]))?.so).toBe('too few');
    expect(of(gas(null), sisters([null, null, null, null, null]))?.so).toBe('not seen');
  });

  test('of equal chambers fewer than one in a hundred gases is called odd', () => {
    const next = normals(31);
    const RUNS = 2000;
    let odd = 0;
    for (let run = 0; run < RUNS; run++) {
      const level = () => 1e-8 * Math.exp(0.1 * next());
      const drift = () => ({ drift: { ln: 0.1 * next(), halfLn: 0.35 } });
      const others = Array.from({ length: 6 }, (_, k) => sister(`s${k}`, { N2: gas(level(), drift()) }));
      const found = of(gas(level(), drift()), others);
      if (found?.so !== 'alike') odd++;
    }
    expect(odd / RUNS).toBeLessThan(0.01);
  });
});
