import { describe, expect, test } from 'vitest';
import { gasMeans, movedGas } from '../../../../shared/analysis/marked/gasMeans.ts';
import { secondAnalyserBackground } from '../../../../shared/analysis/marked/secondAnalyser.ts';
import type { ScanAnalysis } from '../../../../shared/analysis/types.ts';
import { catalogueFor } from '../../../../shared/catalogue/select.ts';

const analysis = (gases: Readonly<Record<string, number>>, detected = true): ScanAnalysis =>
  ({
    gases: Object.entries(gases).map(([gas, valuePa]) => ({
      gas,
      valuePa,
      lowPa: 0,
      highPa: 2 * valuePa,
      detected,
      sigmaPa: 0.1 * valuePa,
    })),
  }) as unknown as ScanAnalysis;

describe('gases over a period', () => {
  test('mean value; the uncertainty is that of one scan, since patterns do not average away', () => {
    const mean = gasMeans([analysis({ H2O: 1 }), analysis({ H2O: 3 })]).get('H2O')!;
    expect(mean.valuePa).toBe(2);
    expect(mean.sigmaPa).toBeCloseTo(Math.sqrt((0.1 ** 2 + 0.3 ** 2) / 2), 12);
    expect(mean.detected).toBe(true);
  });

  test('an undetected gas is as uncertain as its limit', () => {
    const mean = gasMeans([analysis({ He: 1 }, false), analysis({ He: 1 }, false)]).get('He')!;
    expect(mean.detected).toBe(false);
    expect(mean.sigmaPa).toBeCloseTo(2 / 1.96, 12);
  });

  test('a main gas that rises is named, a trace that rises is not', () => {
    const rising = (gas: string) =>
      [1, 1.5, 2].map((factor) => analysis({ H2O: 10, Ar: 0.01, [gas]: factor * (gas === 'H2O' ? 10 : 0.01) }));
    const moved = movedGas(gasMeans(rising('H2O')))!;
    expect(moved.gas).toBe('H2O');
    expect(moved.course).toBeCloseTo(2, 10);
    expect(movedGas(gasMeans(rising('Ar')))).toBe(null);
  });
});

test('no scans at all are refused by name', () => {
  const none = (analyser: string) => ({
    scans: [],
    calibration: { analyser } as Parameters<typeof secondAnalyserBackground>[0]['first']['calibration'],
    catalogue: catalogueFor([]),
  });
  expect(secondAnalyserBackground({ first: none('A1'), second: none('B2') })).toEqual({
    ok: false,
    problem: '0 scans of A1: at least 3 are needed of each.',
  });
});
