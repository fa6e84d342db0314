import { describe, expect, test } from 'vitest';
import type { AnalysisScan, ScanAnalysis } from '../../../shared/analysis/types.ts';
import { seededRandom } from '../../support/instrument.ts';
import { type Charts, emptyCharts, followCharts } from './rivals.ts';

const PERIOD_MS = 600_000;
const random = seededRandom(9);

function follow(charts: Charts, i: number, decades: number, state = 'base'): void {
  const valuePa = 10 ** (-8 + decades + 0.02 * random.normal());
  const scan = { atMs: i * PERIOD_MS, state } as AnalysisScan;
  const gas = { gas: 'N2', valuePa, lowPa: 0, highPa: 0, detected: true, sigmaPa: 1e-11 };
  followCharts(charts, scan, { gases: [gas] } as unknown as ScanAnalysis);
}

function trained(): { charts: Charts; next: number } {
  const charts = emptyCharts();
  const scans = 3 * 144 + 2;
  for (let i = 0; i < scans; i++) follow(charts, i, 0);
  return { charts, next: scans };
}

describe('charts on single gases', () => {
  test('learn for three days, then read in decades and in their own spread', () => {
    const { charts, next } = trained();
    expect(charts.trained!.N2!.centre).toBeCloseTo(-8, 2);
    expect(charts.trained!.N2!.spread).toBeCloseTo(0.02, 2);
    follow(charts, next, 0);
    expect(charts.reading!.limit).toBeLessThan(0.06);
  });

  test('a step is read by the second of three scans, slowly by the average and the sum', () => {
    const { charts, next } = trained();
    follow(charts, next, 0.5);
    expect(charts.reading!.limit).toBeLessThan(0.1);
    follow(charts, next + 1, 0.5);
    const early = charts.reading!;
    expect(early.limit).toBeCloseTo(0.5, 1);
    expect(early['single values']).toBeGreaterThan(15);
    for (let i = 2; i < 20; i++) follow(charts, next + i, 0.5);
    expect(charts.reading!.EWMA).toBeGreaterThan(2 * early.EWMA);
    expect(charts.reading!.CUSUM).toBeGreaterThan(5 * early.CUSUM);
  });

  test('look away in other states and in the hour after', () => {
    const { charts, next } = trained();
    follow(charts, next, 2, 'gas-on');
    expect(charts.reading).toBeNull();
    for (let i = 1; i <= 6; i++) follow(charts, next + i, 2);
    expect(charts.reading).toBeNull();
    follow(charts, next + 7, 2);
    expect(charts.reading!.limit).toBeCloseTo(2, 1);
  });
});
