import { expect, test } from 'vitest';
import { changeSpectrum } from '../../../shared/watch/changeSpectrum.ts';
import { isUsable } from '../../../shared/watch/exampleVariants.ts';
import { frameOf, watched } from '../../support/world/frames.ts';

test('a change is kept mass by mass, beside what is usual and its noise, and can serve as an example', () => {
  const frame = frameOf(watched(41), { 43: 4e-9, gauge: 1e-8 });
  const kept = changeSpectrum(frame, frame.middle, 'scan');
  const i = kept.masses.indexOf(43);
  expect(kept.changePa[i]! / 4e-9).toBeCloseTo(1, 3);
  expect(kept.usualPa[i]).toBe(frame.reference.spectrum[frame.baseline.masses.indexOf(43) + 1]);
  expect(kept.gaugeChangePa! / 1e-8).toBeCloseTo(1, 3);
  // The mean of a day is quieter than a scan.
  const day = changeSpectrum(frame, frame.middle, 'day');
  expect(day.sigmaPa[i]!).toBeLessThan(kept.sigmaPa[i]!);
  // A mean over ten minutes of quick scans is quieter than one over 25 scans.
  const sigmaOf = (periodSeconds: number) =>
    changeSpectrum({ ...frame, periodSeconds }, frame.middle, 'mean').sigmaPa[i]!;
  expect(sigmaOf(1)).toBeLessThan(sigmaOf(60));
  expect(sigmaOf(600)).toBe(sigmaOf(60));
  expect(isUsable({ id: 'x', signature: 'solvent', gases: ['acetone'], ...kept })).toBe(true);
  const blind = changeSpectrum({ ...frame, baseline: { ...frame.baseline, hasGauge: false } }, frame.middle, 'scan');
  expect(blind.gaugeChangePa).toBeNull();
});
