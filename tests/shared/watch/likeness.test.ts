import { describe, expect, test } from 'vitest';
import { likeness, looksLikeAir, mixtureOf } from '../../../shared/watch/likeness.ts';

const MASSES = Array.from({ length: 60 }, (_, i) => i + 1);
/** Heights by mass; the gauge is channel 0. */
const spectrum = (heights: Readonly<Record<number, number>>): Float64Array => {
  const out = new Float64Array(MASSES.length + 1);
  for (const [mass, height] of Object.entries(heights)) out[Number(mass)] = height;
  return out;
};
/** Dry air: US Standard Atmosphere 1976, O2 and Ar against N2 by what they are ionised (common practice: 0.95 and 1.2). */
const AIR = spectrum({ 28: 100, 14: 9, 32: 25, 16: 3, 40: 1.44, 20: 0.2 });

describe('the likeness of two spectra', () => {
  test('the cosine is of the direction alone, the ratio is of the level', () => {
    const a = spectrum({ 28: 3, 40: 4 });
    expect(likeness(a, spectrum({ 28: 6, 40: 8 }))).toEqual({ cosine: 1, ratio: 0.5 });
    // (3 · 4 + 4 · 3) / (5 · 5)
    expect(likeness(a, spectrum({ 28: 4, 40: 3 })).cosine).toBeCloseTo(0.96, 12);
    expect(likeness(a, spectrum({ 18: 1 }))).toEqual({ cosine: 0, ratio: 5 });
  });

  test('what was not measured takes no part, nor does the gauge', () => {
    const a = spectrum({ 28: 3, 40: 4 });
    a[44] = Number.NaN;
    a[0] = 1e9;
    expect(likeness(a, spectrum({ 28: 3, 40: 4, 44: 9 }))).toEqual({ cosine: 1, ratio: 1 });
    expect(likeness(a, spectrum({}))).toEqual({ cosine: 0, ratio: 0 });
  });
});

describe('a mixture of listed gases', () => {
  // Argon 12 % at 20; nitrogen 7–9 % at 14 (handbook values at 70 eV, from memory).
  const seen = spectrum({ 40: 300, 20: 36, 28: 100, 14: 8 });

  test('explains what each of them does not', () => {
    expect(mixtureOf(['Ar', 'N2'], seen, MASSES).share).toBeGreaterThan(0.95);
    expect(mixtureOf(['Ar', 'N2'], seen, MASSES).gas).toBe('Ar');
    expect(mixtureOf(['Ar'], seen, MASSES).share).toBeLessThan(0.8);
    expect(mixtureOf(['N2'], seen, MASSES).share).toBeLessThan(0.3);
  });

  test('no gas, or none that the catalogue holds, explains nothing', () => {
    expect(mixtureOf([], seen, MASSES)).toEqual({ share: 0, gas: null });
    expect(mixtureOf(['no such gas'], seen, MASSES)).toEqual({ share: 0, gas: null });
  });
});

describe('air', () => {
  const asked = (excess: Float64Array, gases: readonly string[] = [], foretold: Float64Array | null = null) =>
    looksLikeAir({ excess, masses: MASSES, gases, foretold });

  test('is told by its oxygen, or by its argon where that was eaten', () => {
    expect(asked(AIR)).toBe(true);
    expect(asked(spectrum({ 28: 100, 14: 9, 40: 1.44 }))).toBe(true);
    expect(asked(spectrum({ 28: 100, 14: 9 }))).toBe(false);
  });

  test('stays air where its gases are listed; a mixture with more of them is none', () => {
    expect(asked(AIR, ['N2', 'Ar', 'O2'])).toBe(true);
    expect(asked(spectrum({ 28: 100, 40: 10 }), ['N2', 'Ar'])).toBe(false);
    expect(asked(spectrum({ 28: 100, 40: 10 }), ['N2'])).toBe(true);
  });

  test('is not what was foretold with that argon and oxygen', () => {
    expect(asked(AIR, [], AIR)).toBe(false);
    expect(asked(AIR, [], spectrum({ 28: 100, 14: 9 }))).toBe(true);
  });

  test('is nothing that is mostly another gas', () => {
    expect(asked(spectrum({ 40: 100, 20: 12, 28: 5 }))).toBe(false);
  });
});
