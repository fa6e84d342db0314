import { describe, expect, test } from 'vitest';
import type { AnalyserMeasurement } from '../../../shared/contract/measurement.ts';
import { type Finding, instrumentFindings } from '../../../web/measurement/findings.ts';
import { saysSomething, scanFindings } from '../../../web/measurement/scanFindings.ts';
import { line } from '../fixture/lines.ts';
import { analyserMeasurement, measurementTrend } from '../fixture/measurement.ts';

const NOW = Date.UTC(2026, 10, 25, 6);
const chamber = line(NOW, { name: 'Preparation 2' });
const measured = analyserMeasurement(NOW, chamber, 'preparation-2-a');
const trend = measurementTrend(NOW, 'preparation-2-a', NOW - 7 * 86_400_000, NOW);

const found = (told: Partial<AnalyserMeasurement> = {}, unit: 'Pa' | 'mbar' = 'Pa') =>
  new Map<string, Finding>(
    instrumentFindings({
      measured: { ...measured, ...told },
      trend,
      unit,
      moment: (at) => at,
    }).map((finding) => [finding.what, finding]),
  );

describe('the instrument in evidence form', () => {
  test('pressures follow the unit of the reader, expectation included', () => {
    const floor = 'Minimum detectable partial pressure, 3σ';
    expect(found().get(floor)?.found).toBe('2.8×10⁻¹¹\u00a0Pa');
    expect(found({}, 'mbar').get(floor)?.found).toBe('2.8×10⁻¹³\u00a0mbar');
    expect(found({}, 'mbar').get(floor)?.expected).toMatch(/×10⁻¹³\u00a0mbar$/);
    expect(found({ detectionMultiple: 4.5 }).has('Minimum detectable partial pressure, 4.5σ')).toBe(true);
  });

  test('what has left its own range says so before anything else', () => {
    expect(found({ floor: 9e-10 }).get('Minimum detectable partial pressure, 3σ')?.so).toMatch(
      /^above its usual range;/,
    );
    expect(found().get('Gauge over sum, κ')?.so).toMatch(/^steady over 1840 scans/);
  });

  test('a mass scale below its masses keeps its sign', () => {
    const massScale = { offset: -0.013, slopePer100: 0.002, usualOffset: 0, at: '2026-11-25T05:00:00Z' };
    expect(found({ massScale }).get('Mass scale, offset and slope')?.found).toBe(
      '−0.013\u00a0u, slope +0.002\u00a0u per 100\u00a0u',
    );
  });

  test('what is not known is said, never written as zero', () => {
    const nothing = found({
      kappa: null,
      gainDetail: null,
      widths: null,
      width: null,
      noise: null,
      responseSeconds: null,
    });
    for (const what of [
      'Gauge over sum, κ',
      'Gain of the multiplier',
      'Peak width at 50, 10 and 5\u00a0%',
      'Response time',
    ]) {
      expect(nothing.get(what)?.found).toBe('not measured');
      expect(nothing.get(what)?.drawing).toBeNull();
    }
  });

  // Common practice: 3 200 averages of an 85 ms sweep respond in 272 s.
  test('the response time is that of a sweep times the sweeps', () => {
    expect(found({ seconds: 0.085, averages: 3200, responseSeconds: 272 }).get('Response time')?.found).toBe(
      '272\u00a0s = 0.085\u00a0s × 3\u202f200',
    );
  });
});

describe('what is not the chamber’s gas', () => {
  test('every line is there, and those that say something are marked', () => {
    const lines = scanFindings(measured, 'Pa');
    expect(lines).toHaveLength(7);
    expect(lines.filter(saysSomething).map(({ what }) => what)).toContain('Gases that cannot be told apart');
    expect(lines.find(({ what }) => what === 'Gases that cannot be told apart')?.found[0]).toBe(
      'CO + N₂: together 3.3×10⁻⁹\u00a0Pa (2.9–3.8), correlation −0.97',
    );
  });

  test('an ion trap has no foot and no ions knocked off that anybody looked for', () => {
    const trap = scanFindings(analyserMeasurement(NOW, chamber, 'preparation-2-b'), 'Pa');
    expect(trap.find(({ what }) => what.startsWith('Foot'))?.so).toMatch(/ion trap has none/);
    expect(trap.find(({ what }) => what.startsWith('The analyser’s own'))?.so).toMatch(
      /^carbon monoxide: more than half/,
    );
  });
});
