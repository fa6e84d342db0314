import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Mark } from '../../../web/strip/geometry.ts';
import {
  LEAST_PITCH,
  layoutFor,
  MOST_OWN_GASES,
  ownGasesOf,
  ownGasesThatFit,
  PITCH,
  pitchFor,
  widthInPitches,
} from '../../../web/strip/layout.ts';
import { AIR } from '../fixture/marks.ts';

describe('layout', () => {
  test('the same gas has the same place on every row', () => {
    const plain = layoutFor([]);
    const withOwn = layoutFor(['SF6']);
    expect(withOwn.slots.slice(0, 12)).toEqual(plain.slots);
    expect(plain.width).toBe(12 * PITCH);
    expect(withOwn.slots[12]).toEqual({ gas: 'SF6', x: 13 * PITCH });
    expect(withOwn.width).toBe(13.5 * PITCH);
  });

  test('own gases: those that stand out come first, and there are never too many', () => {
    const declared = ['CF4', 'NF3', 'SF6', 'WF6'];
    const out: Mark = {
      gas: 'toluene',
      status: 'measured',
      decades: 1,
      halfWidth: 0.2,
      atLastRound: null,
      alert: null,
    };
    const own = ownGasesOf([[...AIR, out]], declared);
    expect(own[0]).toBe('toluene');
    expect(own).toHaveLength(MOST_OWN_GASES);
    expect(ownGasesOf([AIR], ['N2'])).toEqual([]);
    const limit: Mark = { ...out, status: 'below-detection' };
    expect(ownGasesOf([[limit]])).toEqual([]);
  });

  test('narrow: closer together, never so close that labels collide, and what is drawn fits', () => {
    fc.assert(
      fc.property(fc.integer({ min: 262, max: 900 }), fc.integer({ min: 0, max: 4 }), (available, wanted) => {
        const own = Math.min(wanted, ownGasesThatFit(available));
        const pitch = pitchFor(available, own);
        expect(pitch).toBeGreaterThanOrEqual(LEAST_PITCH);
        expect(pitch).toBeLessThanOrEqual(PITCH);
        expect(pitch * widthInPitches(own)).toBeLessThanOrEqual(available + 1e-9);
      }),
    );
  });
});
