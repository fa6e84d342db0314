/** The change that a finding stands on, mass by mass: for drawing it, and for keeping it as an example of its cause. */
import type { Frame } from './frame.ts';
import { noiseFactor } from './nullModel.ts';
import { RELATIVE_FLOOR } from './parameters.ts';
import type { ChangeSpectrum } from './types.ts';

/** Variance of a median of three against that of one scan. */
const MIDDLE_SHARE = 0.45;

function shareOf(lane: string, periodSeconds: number): number {
  return lane === 'mean' || lane === 'day' ? noiseFactor(lane, periodSeconds) : MIDDLE_SHARE;
}

/** Masses that are not measured here are left out. */
export function changeSpectrum(frame: Frame, change: Float64Array, lane: string): ChangeSpectrum {
  const { baseline, reference, periodSeconds } = frame;
  const share = shareOf(lane, periodSeconds);
  const sigma = (m: number) =>
    Math.hypot(Math.sqrt(share * baseline.variance[m]!), RELATIVE_FLOOR * reference.spectrum[m]!);
  const seen = baseline.masses.map((mass, i) => ({ mass, m: i + 1 })).filter(({ m }) => sigma(m) > 0);
  return {
    masses: seen.map(({ mass }) => mass),
    usualPa: seen.map(({ m }) => reference.spectrum[m]!),
    changePa: seen.map(({ m }) => change[m]!),
    sigmaPa: seen.map(({ m }) => sigma(m)),
    gaugeChangePa: baseline.hasGauge ? change[0]! : null,
  };
}
