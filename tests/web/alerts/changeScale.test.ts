import { describe, expect, test } from 'vitest';
import { changeAxis, changedMasses, inUnit, mostChanged } from '../../../web/alerts/changeScale.ts';

const spectrum = {
  masses: [2, 18, 28, 40, 44],
  usualPa: [1e-8, 5e-8, 0, 0, 2e-8],
  changePa: [-4e-9, 1e-12, 3e-7, 5e-9, 0],
  sigmaPa: [1e-10, 1e-11, 1e-9, 1e-10, 0],
  gaugeChangePa: null,
};

describe('a change on a log axis', () => {
  const masses = changedMasses(spectrum);

  test('what drowns in its error has no height, only a place that it cannot pass', () => {
    expect(masses[1]).toMatchObject({ change: null, fell: false });
    // 1e-12 + 1.96 × 1e-11: the normal distribution, two-sided 95 %.
    expect(masses[1]?.atMost).toBeCloseTo(2.06e-11, 13);
  });

  test('two sigma at one of many masses is chance, and is not told as a change', () => {
    const [two, five] = changedMasses({
      ...spectrum,
      masses: [60, 61],
      changePa: [2.5e-11, -5e-11],
      sigmaPa: [1e-11, 1e-11],
    });
    expect(two).toMatchObject({ change: null, fell: false });
    expect(five).toMatchObject({ change: 5e-11, fell: true });
  });

  test('a fall keeps its size and says so; no change at all is nothing to draw', () => {
    expect(masses[0]).toMatchObject({ change: 4e-9, fell: true });
    expect(masses[4]).toMatchObject({ change: null, atMost: null, usual: 2e-8 });
  });

  test('zero is never usual: nothing was seen there', () => {
    expect(masses[2]).toMatchObject({ usual: null, change: 3e-7, fell: false });
  });

  test('the axis holds every change with its interval and goes no deeper than the smallest', () => {
    const axis = changeAxis(masses);
    expect(axis.low).toBeLessThanOrEqual(3.8e-9);
    expect(axis.low).toBeGreaterThanOrEqual(1e-10);
    expect(axis.high).toBeGreaterThanOrEqual(3.02e-7);
  });

  test('nothing told: the axis is still one of whole decades', () => {
    const axis = changeAxis(changedMasses({ ...spectrum, changePa: [0, 0, 0, 0, 0] }));
    expect(axis.ticks.length).toBeGreaterThan(1);
  });

  test('the largest are named first; another unit changes every number alike', () => {
    expect(mostChanged(masses, 2).map(({ mass }) => mass)).toEqual([28, 40]);
    // 1 mbar = 100 Pa (SI brochure).
    expect(changedMasses(inUnit(spectrum, 'mbar'))[2]?.change).toBeCloseTo(3e-9, 15);
  });
});
