/** Surface ions: isotopes of chlorine 35/37 3:1 and of potassium 39/41 14:1 (IUPAC). */
import { describe, expect, test } from 'vitest';
import { decide } from '../../../shared/watch/decide.ts';
import { advanceLanes } from '../../../shared/watch/lanes.ts';
import { surfaceIonsAlone } from '../../../shared/watch/surfaceIons.ts';
import { frameOf, peaks, watched } from '../../support/world/frames.ts';

const chamber = watched(41);
const argon = { bursts: false, pulses: 0, meanIntervalSeconds: null, line: true };
const alone = (change: Parameters<typeof frameOf>[1]) => {
  const frame = frameOf(chamber, change);
  return surfaceIonsAlone(frame, frame.middle);
};

describe('ions from surfaces', () => {
  test('are told by their masses alone', () => {
    expect(alone({ 19: 4e-9, 35: 3e-9, 37: 1e-9 })).toEqual([19, 35, 37]);
    expect(alone({ 23: 4e-9, 39: 5e-9, 41: 4e-10 })).toContain(39);
    expect(alone({ 16: 2e-8 })).toEqual([16]);
  });

  test('are not told where a gas is: its other peaks, its isotopes, its gauge', () => {
    // Hydrogen chloride has 36 and 38; hydrocarbons 41 beside 39; methane 15; oxygen 32.
    expect(alone({ 35: 1e-9, 36: 6e-9, 37: 3e-10, 38: 2e-9 })).toBeNull();
    expect(alone({ 39: 3e-9, 41: 4e-9 })).toBeNull();
    expect(alone(peaks({ 16: 100, 15: 88 }, 2e-8))).toBeNull();
    expect(alone({ 19: 4e-9, gauge: 1e-7 })).toBeNull();
    expect(alone({})).toBeNull();
  });

  test('call nobody and are never a gas', () => {
    const frame = frameOf(chamber, { 19: 4e-9, 35: 3e-9, 37: 1e-9 });
    expect(decide(frame, { exceedance: null, spectra: advanceLanes(frame), argon })).toEqual([]);
    expect(frame.memory.standing).toEqual([]);
    const gas = frameOf(chamber, { 35: 1e-9, 36: 6e-9, 37: 3e-10, 38: 2e-9 });
    expect(decide(gas, { exceedance: null, spectra: advanceLanes(gas), argon })).toHaveLength(1);
  });
});
