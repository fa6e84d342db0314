import { describe, expect, test } from 'vitest';
import { massScale, positionOf, strongPeaks } from '../../../shared/analysis/massScale.ts';
import { neighbourError, shapeOf, templateHeight } from '../../../shared/analysis/peakShape.ts';
import { profileHeights } from '../../../shared/analysis/profile.ts';
import { baselineAt, valleyBaseline } from '../../../shared/analysis/valleyBaseline.ts';
import { seededRandom } from '../../support/instrument.ts';

const PER_UNIT = 16;
const SIGMA = 0.24;

interface Wanted {
  readonly peaks: Readonly<Record<number, number>>;
  readonly offset?: number;
  readonly slope?: number;
  readonly level?: (mass: number) => number;
  readonly noise?: number;
  readonly last?: number;
}

function profileOf({ peaks, offset = 0, slope = 0, level = () => 0, noise = 0, last = 100 }: Wanted) {
  const random = seededRandom(3);
  const values = Float64Array.from({ length: last * PER_UNIT + 1 }, (_, i) => {
    const mass = 0.5 + i / PER_UNIT;
    let y = level(mass) + noise * random.normal();
    for (const [m, height] of Object.entries(peaks)) {
      const centre = Number(m) + offset + slope * Number(m);
      y += height * Math.exp(-0.5 * ((mass - centre) / SIGMA) ** 2);
    }
    return y;
  });
  return { first: 0.5, perUnit: PER_UNIT, values };
}

const PEAKS = { 2: 3, 12: 0.3, 16: 0.5, 18: 10, 28: 5, 32: 0.4, 44: 2, 57: 0.2, 69: 0.6, 84: 0.5 };

describe('scale of masses', () => {
  test('an offset and a slope are found, also in noise', () => {
    const profile = profileOf({ peaks: PEAKS, offset: 0.2, slope: 0.002, noise: 0.003 });
    const scale = massScale(strongPeaks(profile));
    for (const mass of [2, 18, 28, 44, 84]) {
      expect(Math.abs(positionOf(scale, mass) - (mass + 0.2 + 0.002 * mass))).toBeLessThan(0.02);
    }
  });

  test('pure noise has no offset', () => {
    const profile = profileOf({ peaks: {}, noise: 1 });
    expect(Math.abs(massScale(strongPeaks(profile)).offsetU)).toBeLessThan(0.5);
    expect(massScale([])).toEqual({ offsetU: 0, slope: 0, pivot: 0 });
  });

  test('peaks half-way between masses do not pull the scale', () => {
    const profile = profileOf({ peaks: { ...PEAKS, 14.5: 0.4 }, offset: 0.1 });
    expect(massScale(strongPeaks(profile)).offsetU).toBeCloseTo(0.1, 2);
  });
});

describe('baseline', () => {
  test('a level that rises with mass is followed, and large peaks do not lift it', () => {
    const level = (mass: number) => 0.05 + 0.001 * mass;
    const profile = profileOf({ peaks: PEAKS, level, noise: 0.001 });
    const baseline = valleyBaseline(profile, { offsetU: 0, slope: 0, pivot: 0 }, 1, 100);
    // A knot every twelve units: near the ends the level is that of the last knot, six units away.
    for (const mass of [8, 24, 37, 62, 90])
      expect(Math.abs(baselineAt(baseline, mass) - level(mass))).toBeLessThan(0.012);
  });

  test('no valley, no level', () => {
    expect(baselineAt({ knotMasses: [], levels: [] }, 10)).toBe(0);
  });
});

describe('peak shape', () => {
  test('the width is measured, and a small peak beside a large one is read without its tail', () => {
    const profile = profileOf({ peaks: { ...PEAKS, 19: 0.01 } });
    const strong = strongPeaks(profile);
    const shape = shapeOf(profile, strong, () => 0);
    expect(shape.widthU).toBeCloseTo(SIGMA * 2 * Math.sqrt(2 * Math.LN2), 2);
    expect(templateHeight(profile, shape, 19, 0)).toBeCloseTo(0.01, 3);
    expect(neighbourError(shape)).toBeGreaterThan(0);
  });

  test('without a strong peak a usual width is taken', () => {
    const profile = profileOf({ peaks: {} });
    expect(shapeOf(profile, [], () => 0).measured).toBe(false);
  });

  test('outside of the scan nothing is read', () => {
    const profile = profileOf({ peaks: PEAKS, last: 50 });
    expect(
      templateHeight(
        profile,
        shapeOf(profile, [], () => 0),
        80,
        0,
      ),
    ).toBeNaN();
  });
});

describe('heights', () => {
  test('a gap of missing points takes its mass away and no other', () => {
    const profile = profileOf({ peaks: PEAKS });
    const values = profile.values.slice();
    for (let i = 0; i < values.length; i++) {
      const mass = 0.5 + i / PER_UNIT;
      if (mass > 43.5 && mass < 44.5) values[i] = Number.NaN;
    }
    const { masses, heights } = profileHeights({ ...profile, values });
    expect(masses).not.toContain(44);
    expect(heights[masses.indexOf(28)]! / 5).toBeCloseTo(1, 2);
  });

  test('the end of a scan that cuts a peak in half still has its height', () => {
    const { masses, heights } = profileHeights({
      first: 1,
      perUnit: PER_UNIT,
      values: profileOf({ peaks: { 1: 2, ...PEAKS } }).values.slice(PER_UNIT / 2),
    });
    expect(masses[0]).toBe(1);
    expect(heights[0]! / 2).toBeCloseTo(1, 1);
  });

  test('flat-topped peaks off their masses are read at their tops', () => {
    const step = (x: number) => 1 / (1 + Math.exp(-x / 0.04));
    const values = Float64Array.from({ length: 50 * PER_UNIT + 1 }, (_, i) => {
      let y = 0;
      for (const [m, height] of Object.entries({ 2: 3, 18: 10, 28: 5, 44: 2 })) {
        const away = 0.5 + i / PER_UNIT - Number(m) - 0.3;
        y += height * (step(away + 0.4) - step(away - 0.4));
      }
      return y;
    });
    const { masses, heights, offsetU } = profileHeights({ first: 0.5, perUnit: PER_UNIT, values });
    expect(offsetU).toBeCloseTo(0.3, 1);
    for (const [mass, height] of Object.entries({ 2: 3, 18: 10, 28: 5, 44: 2 })) {
      expect(Math.abs(heights[masses.indexOf(Number(mass))]! / height - 1)).toBeLessThan(0.02);
    }
  });
});
