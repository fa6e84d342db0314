/** What is said of the gauge, for changes whose gauge is laid over by construction. */
import { describe, expect, test } from 'vitest';
import {
  type GaugeSeen,
  gaugeEvidence,
  gaugeSaid,
  gaugeSeen,
  isScaledByGauge,
} from '../../../shared/watch/gaugeSaid.ts';
import { frameOf, watched } from '../../support/world/frames.ts';

const chamber = watched(41);
const frame = frameOf(chamber, {});
const usualPa = frame.reference.spectrum[0]!;
const withGauge = (factor: number) => frame.middle.map((_, m) => (m === 0 ? (factor - 1) * usualPa : 0));
const scaledFrame = (totalPressurePa: number | null) => {
  const scan = { ...frame.input.scan, unit: '1' as const, totalPressurePa };
  return { ...frame, baseline: { ...frame.baseline, hasGauge: false }, input: { ...frame.input, scan } };
};

describe('a gauge that is a witness of its own', () => {
  test.each([
    [1.8, 'the gauge has risen by a factor of 1.8'],
    [0.5, 'the gauge has fallen by a factor of 2'],
    [1.06, 'the gauge has risen by 6\u00a0%'],
  ])('times %d: %s', (factor, said) => {
    expect(gaugeSaid(gaugeSeen(frame, withGauge(factor)))).toBe(said);
  });

  test('within its noise it stands still, and the bound holds what was seen', () => {
    const [, percent] = /^the gauge stands still within (\d+)\u00a0%$/.exec(
      gaugeSaid(gaugeSeen(frame, withGauge(1.005))),
    )!;
    expect(Number(percent)).toBeGreaterThanOrEqual(1);
    expect(Number(percent)).toBeLessThanOrEqual(6);
  });

  test('one that scatters by a third tells nothing', () => {
    const variance = frame.baseline.variance.map((value, m) => (m === 0 ? (0.5 * usualPa) ** 2 : value));
    const noisy = { ...frame, baseline: { ...frame.baseline, variance } };
    expect(gaugeSaid(gaugeSeen(noisy, withGauge(1.3)))).toBe('the gauge scatters too much to tell');
  });

  test('in a tail it is held against what the tail foretells', () => {
    const lifted = new Uint8Array(frame.middle.length).fill(1);
    const settling = { ...frame, reference: { ...frame.reference, lifted } };
    expect(gaugeSaid(gaugeSeen(settling, withGauge(1.8)))).toBe('the gauge reads 1.8 times what the tail foretells');
    expect(gaugeSaid(gaugeSeen(settling, withGauge(1.02)))).toMatch(
      /^the gauge stands within \d+\u00a0% of what the tail foretells$/,
    );
  });

  test('stands in the evidence before and after', () => {
    const row = gaugeEvidence(gaugeSeen(frame, withGauge(1.8)))!;
    expect(row.value!).toBeCloseTo(1.8 * usualPa, 12);
    expect(row).toMatchObject({ name: 'Gauge', unit: 'Pa', verdict: 'has risen by a factor of 1.8' });
    expect(row.expectedLow!).toBeLessThan(usualPa);
    expect(row.expectedHigh!).toBeGreaterThan(usualPa);
  });
});

test.each([0.94, 0.965, 0.98, 1, 1.02, 1.035, 1.06])(
  'times %d: picture and words agree on whether it moved',
  (factor) => {
    const row = gaugeEvidence(gaugeSeen(frame, withGauge(factor)))!;
    const isWithin = row.value! >= row.expectedLow! && row.value! <= row.expectedHigh!;
    expect(isWithin).toBe(row.verdict.startsWith('stands still'));
  },
);

describe('a gauge that gives the shares their scale', () => {
  test('has risen by what their sum has, though its own channel is empty', () => {
    const doubled = frame.reference.spectrum.map((height, m) => (m === 0 ? 0 : height));
    const seen = gaugeSeen(scaledFrame(4e-6), doubled)!;
    expect(seen.nowPa).toBe(4e-6);
    expect(seen.beforePa / 2e-6).toBeCloseTo(1, 6);
    expect(gaugeSaid(seen)).toBe('the gauge, which gives the scale, has risen by a factor of 2');
  });

  test('without a reading in the scan nothing is said of it', () => {
    expect(gaugeSeen(scaledFrame(null), frame.middle)).toBeNull();
  });

  test('is told by unit, or by amperes without a sensitivity beside a reading', () => {
    const of = (unit: 'A' | '1' | 'Pa', sensitivity: number | null, totalPressurePa: number | null) =>
      isScaledByGauge({
        input: { ...frame.input, scan: { ...frame.input.scan, unit, totalPressurePa } },
        context: {
          ...frame.context,
          calibration: { ...frame.context.calibration, sensitivityAmperesPerPascal: sensitivity },
        },
      });
    expect([of('1', 1e-6, 1e-6), of('A', null, 1e-6)]).toEqual([true, true]);
    expect([of('A', 1e-6, 1e-6), of('A', null, null), of('Pa', null, 1e-6)]).toEqual([false, false, false]);
  });
});

test('without a gauge it is said that there is none, and no row speaks of it', () => {
  const none: GaugeSeen | null = gaugeSeen(
    { ...frame, baseline: { ...frame.baseline, hasGauge: false } },
    frame.middle,
  );
  expect(none).toBeNull();
  expect(gaugeSaid(none)).toBe('no gauge is there to tell');
  expect(gaugeEvidence(none)).toBeNull();
});
