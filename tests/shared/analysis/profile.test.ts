import { describe, expect, test } from 'vitest';
import { type MassScale, massScale, positionOf, steadied } from '../../../shared/analysis/massScale.ts';
import { neighbourError, shapeOf, templateHeight } from '../../../shared/analysis/peakShape.ts';
import { peakWidths } from '../../../shared/analysis/peakWidths.ts';
import { gapsIn } from '../../../shared/analysis/pointGaps.ts';
import { profileHeights } from '../../../shared/analysis/profile.ts';
import { medianInPlace, quantileInPlace, selectInPlace } from '../../../shared/analysis/quickselect.ts';
import { quantileOfSorted } from '../../../shared/analysis/robust.ts';
import { strongPeaks } from '../../../shared/analysis/strongPeaks.ts';
import { levelsOf, valleyBaseline } from '../../../shared/analysis/valleyBaseline.ts';
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

describe('beside a large peak', () => {
  /** Flatter at the top and steeper than a Gaussian, as real peaks are: their tails are not quite what a template takes off. */
  const flatTopped = (offset: number) => ({
    first: 0.5,
    perUnit: 10,
    values: Float64Array.from({ length: 591 }, (_, i) => {
      const mass = 0.5 + i / 10;
      let y = 0;
      for (const [m, height] of Object.entries({ 2: 100, 18: 300, 28: 80, 44: 60, 45: 0.5 }))
        y += height * Math.exp(-Math.LN2 * Math.abs((2 * (mass - Number(m) - offset)) / 0.72) ** 3);
      return y;
    }),
  });

  test('a small height does not jump as the peaks move from one point to the next', () => {
    const heights = Array.from({ length: 41 }, (_, k) => {
      const offsetU = 0.03 + k / 1000;
      const read = profileHeights(flatTopped(offsetU), { offsetU, slope: 0, pivot: 18 });
      return read.heights[read.masses.indexOf(43)]!;
    });
    const steps = heights.slice(1).map((height, k) => Math.abs(height - heights[k]!));
    // A thousandth of the large one for 0.001 u; when points came in and went at once it was ten.
    expect(Math.max(...steps)).toBeLessThan(0.002 * 60);
  });

  test('it is read where peaks have stood lately, unless the scan says clearly otherwise', () => {
    const at = (offsetU: number, slope = 0): MassScale => ({ offsetU, slope, pivot: 28 });
    expect(steadied(at(0.05), null, 60)).toEqual(at(0.05));
    expect(steadied(at(0.05), at(0.04), 60)).toEqual(at(0.04));
    expect(steadied(at(0.3), at(0.04), 60)).toEqual(at(0.3));
    expect(positionOf(steadied(at(0.085), at(0.04), 60), 44)).toBeCloseTo(44.0625, 10);
    // A slope counts where it carries farthest.
    expect(steadied(at(0.04, 0.002), at(0.04), 60)).toEqual(at(0.04, 0.002));
  });
});

describe('scale of masses', () => {
  test('an offset and a slope are found, also in noise', () => {
    const profile = profileOf({ peaks: PEAKS, offset: 0.2, slope: 0.002, noise: 0.003 });
    const scale = massScale(strongPeaks(profile)) as MassScale;
    for (const mass of [2, 18, 28, 44, 84]) {
      expect(Math.abs(positionOf(scale, mass) - (mass + 0.2 + 0.002 * mass))).toBeLessThan(0.02);
    }
  });

  test('no peak, no scale; and where peaks contradict each other none either', () => {
    expect(massScale([])).toBeNull();
    const halves = profileOf({ peaks: { 2: 3, 18.5: 3, 28: 3, 44.5: 3 } });
    expect(massScale(strongPeaks(halves))).toBeNull();
  });

  test('near half a unit the scale that was followed says to which mass a peak belongs', () => {
    const strong = strongPeaks(profileOf({ peaks: PEAKS, offset: 0.52 }));
    expect(massScale(strong)?.offsetU).toBeCloseTo(-0.48, 1);
    expect(massScale(strong, { offsetU: 0.49, slope: 0, pivot: 30 })?.offsetU).toBeCloseTo(0.52, 1);
  });

  test('peaks half-way between masses do not pull the scale', () => {
    const profile = profileOf({ peaks: { ...PEAKS, 14.5: 0.4 }, offset: 0.1 });
    expect(massScale(strongPeaks(profile))?.offsetU).toBeCloseTo(0.1, 2);
  });
});

describe('baseline', () => {
  test('a level that rises with mass is followed, and large peaks do not lift it', () => {
    const level = (mass: number) => 0.05 + 0.001 * mass;
    const profile = profileOf({ peaks: PEAKS, level, noise: 0.001 });
    const baseline = valleyBaseline(profile, { offsetU: 0, slope: 0, pivot: 0 }, 1, 100);
    const levels = new Float64Array(100);
    levelsOf(baseline, 1, levels, 100);
    // A knot every twelve units: near the ends the level is that of the last knot, six units away.
    for (const mass of [8, 24, 37, 62, 90]) expect(Math.abs(levels[mass - 1]! - level(mass))).toBeLessThan(0.012);
  });

  test('no valley, no level', () => {
    const levels = Float64Array.of(9, 9);
    levelsOf({ knotMasses: [], levels: [] }, 1, levels, 2);
    expect(Array.from(levels)).toEqual([0, 0]);
  });
});

describe('peak shape', () => {
  test('the width is measured, and a small peak beside a large one is read without its tail', () => {
    const profile = profileOf({ peaks: { ...PEAKS, 19: 0.01 } });
    const { half } = peakWidths(profile, strongPeaks(profile), { levels: Float64Array.of(0), firstMass: 1, count: 1 });
    expect(half).toBeCloseTo(SIGMA * 2 * Math.sqrt(2 * Math.LN2), 2);
    const shape = shapeOf(PER_UNIT, half);
    expect(templateHeight(profile, shape, 19, 0)).toBeCloseTo(0.01, 3);
    expect(neighbourError(shape)).toBeGreaterThan(0);
  });

  test('without a strong peak a usual width is taken', () => {
    expect(shapeOf(PER_UNIT, null).measured).toBe(false);
  });

  test('outside of the scan nothing is read', () => {
    const profile = profileOf({ peaks: PEAKS, last: 50 });
    expect(templateHeight(profile, shapeOf(PER_UNIT, null), 80, 0)).toBeNaN();
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

describe('no height is lost when the scale moves', () => {
  const places = [-0.45, -0.3, -0.1, 0, 0.2, 0.35, 0.45].flatMap((offset) =>
    [-0.002, 0, 0.002].map((slope) => [offset, slope] as const),
  );
  const peaks = { 2: 3, 14: 0.4, 18: 10, 28: 5, 32: 0.4, 40: 0.3, 44: 2, 57: 0.2, 69: 0.6, 84: 0.5 };

  test.each([4, 8, 16, 64])(
    '%i points per unit: within 1 %% for offsets to ±0.45 u and slopes to ±0.2 u per 100 u',
    (perUnit) => {
      for (const [offset, slope] of places) {
        // The slope turns about m/z 30: the offset stays within half a unit from end to end.
        const at = (mass: number) => mass + offset + slope * (mass - 30) * (Math.abs(offset) > 0.4 ? 0.2 : 1);
        const random = seededRandom(9);
        const values = Float64Array.from({ length: 100 * perUnit + 1 }, (_, i) => {
          const place = 0.5 + i / perUnit;
          let y = 1e-5 * random.normal();
          for (const [mass, height] of Object.entries(peaks))
            y += height * Math.exp(-0.5 * ((place - at(Number(mass))) / SIGMA) ** 2);
          return y;
        });
        const found = profileHeights({ first: 0.5, perUnit, values });
        for (const [mass, height] of Object.entries(peaks)) {
          const read = found.heights[found.masses.indexOf(Number(mass))]!;
          expect(Math.abs(read / height - 1), `m/z ${mass}, offset ${offset}, slope ${slope}`).toBeLessThan(0.01);
        }
      }
    },
  );
});

describe('widths at 50, 10 and 5 % of the height', () => {
  const profile = (perUnit: number, shape: (away: number) => number) => ({
    first: 0.5,
    perUnit,
    values: Float64Array.from({ length: 60 * perUnit + 1 }, (_, i) => {
      const place = 0.5 + i / perUnit;
      return [2, 18, 28, 44].reduce((sum, mass) => sum + mass * shape(place - mass - 0.07), 0);
    }),
  });
  const gaussian = (away: number) => Math.exp(-0.5 * (away / 0.2) ** 2);

  test.each([6, 10, 24, 64])('%i points per unit: those of a Gaussian, 2σ√(2 ln 1/share)', (perUnit) => {
    const { widths } = profileHeights(profile(perUnit, gaussian));
    for (const [key, share] of [
      ['half', 0.5],
      ['tenth', 0.1],
      ['twentieth', 0.05],
    ] as const) {
      expect(Math.abs(widths[key]! - 0.4 * Math.sqrt(2 * Math.log(1 / share))), key).toBeLessThan(0.01);
    }
  });

  test('those of a trapezoid, which no Gaussian has', () => {
    const trapezoid = (away: number) => Math.max(0, Math.min(1, (0.45 - Math.abs(away)) / 0.1));
    const { widths } = profileHeights(profile(32, trapezoid));
    // Within half a point: its edge is a straight line three points long.
    expect(Math.abs(widths.half! - 0.8)).toBeLessThan(0.015);
    expect(Math.abs(widths.tenth! - 0.88)).toBeLessThan(0.015);
    expect(Math.abs(widths.twentieth! - 0.89)).toBeLessThan(0.015);
  });

  test('where every peak has neighbours its foot is not measured', () => {
    const crowded = profileOf({ peaks: Object.fromEntries(Array.from({ length: 90 }, (_, i) => [i + 2, 1])) });
    expect(profileHeights(crowded).widths).toEqual({ half: null, tenth: null, twentieth: null });
  });
});

describe('points that cannot be', () => {
  const whole = profileOf({ peaks: PEAKS, offset: 0.05, noise: 1e-4 });
  const heightOf = (values: Float64Array, mass: number) => {
    const { masses, heights } = profileHeights({ ...whole, values });
    return heights[masses.indexOf(mass)]!;
  };

  test.each([1, 2])('%i at the floor inside a peak: not used', (count) => {
    for (const shift of [-3, -1, 0, 1, 3]) {
      const values = whole.values.slice();
      const at = Math.round((28.05 - 0.5) * PER_UNIT) + shift;
      values.fill(0, at, at + count);
      expect(Math.abs(heightOf(values, 28) / 5 - 1), `${shift} points beside the top`).toBeLessThan(0.02);
      expect(heightOf(values, 18) / 10).toBeCloseTo(1, 2);
    }
  });

  test('valleys between narrow peaks and the floor beside a peak are no gaps', () => {
    for (const position of [24, 28.5, 43.4]) {
      expect(gapsIn(whole, { position, widthU: 0.55, level: 0, least: 0.01 })).toEqual([]);
    }
  });

  test('a top that is flat to the last digit is cut off: its height is that of the end, the same for all', () => {
    const values = whole.values.map((value) => Math.min(value, 4));
    const { masses, heights, cutOff, offsetU } = profileHeights({ ...whole, values });
    expect(cutOff).toEqual([18, 28]);
    expect(cutOff.map((mass) => heights[masses.indexOf(mass)])).toEqual([4, 4]);
    expect(heights[masses.indexOf(44)]! / 2).toBeCloseTo(1, 2);
    expect(offsetU).toBeCloseTo(0.05, 2);
  });

  test('a flat top of three digits is none', () => {
    const values = whole.values.map((value) => Number(value.toPrecision(3)));
    expect(profileHeights({ ...whole, values }).cutOff).toEqual([]);
  });
});

test('a profile without a strong peak is read where peaks stood before', () => {
  const profile = profileOf({ peaks: {}, noise: 0.001 });
  const { scale, scaleFound } = profileHeights(profile, { offsetU: 0.3, slope: 0, pivot: 28 });
  expect(scaleFound).toBe(false);
  expect(scale.offsetU).toBe(0.3);
});

test('order statistics without sorting are those of a sorted list', () => {
  const random = seededRandom(6);
  for (let count = 1; count < 60; count++) {
    const values = Float64Array.from({ length: count }, () => Math.round(5 * random.normal()));
    const sorted = values.slice().sort();
    const k = Math.floor(random.uniform() * count);
    expect(selectInPlace(values.slice(), count, k)).toBe(sorted[k]);
    expect(quantileInPlace(values.slice(), count, 0.3)).toBeCloseTo(quantileOfSorted(sorted, 0.3), 12);
  }
  expect(medianInPlace(Float64Array.of(3, Number.NaN, 1), 3)).toBe(2);
  expect(medianInPlace(new Float64Array(0), 0)).toBeNaN();
});
