import type { Spectrum } from '../../shared/contract/readings.ts';
import { fromPascal, type PressureUnit } from '../../shared/units.ts';
import { plottable } from '../charts/logAxis.ts';
import type { Profile } from '../charts/ProfileChart.tsx';
import type { GasShare } from '../charts/peakShares.ts';
import type { DrawnPeak } from '../charts/SpectrumLayers.tsx';
import { gasTitle } from '../notation/gas.ts';
import { plain, scientific } from '../notation/number.ts';
import { words } from '../strings/spectrum.ts';

/** What stands behind the bars: the usual heights, an earlier scan, or nothing. */
export type Behind =
  | { readonly kind: 'usual' }
  | { readonly kind: 'none' }
  | { readonly kind: 'scan'; readonly spectrum: Spectrum | null };

/** Peaks in the reader's unit; what lies under the floor is not drawn, except as what was usual or there before. */
export function drawnPeaks(spectrum: Spectrum, unit: PressureUnit, behind: Behind = { kind: 'usual' }): DrawnPeak[] {
  const above = (floor: number) => (pressurePa: number | null | undefined) => {
    const value = plottable(pressurePa);
    return value === null || value < floor ? null : fromPascal(value, unit);
  };
  const inUnit = above(spectrum.floor ?? 0);
  const earlier = behind.kind === 'scan' ? behind.spectrum : null;
  const inEarlier = above(earlier?.floor ?? 0);
  const heights = new Map(earlier?.peaks.map(({ mass, value }) => [mass, value]));
  return [...spectrum.peaks]
    .sort((a, b) => a.mass - b.mass)
    .map((peak) => ({
      ...peak,
      height: inUnit(peak.value),
      shoulder: behind.kind === 'usual' ? inUnit(peak.baseline) : null,
      ghost: inEarlier(heights.get(peak.mass)),
    }));
}

export const percent = (share: number): string => {
  const value = share * 100;
  return words.percent(value >= 9.95 ? value.toFixed(0) : value >= 0.01 ? plain(value, 1) : '< 0.01');
};

/** The picture in words. */
export function spectrumSentence(spectrum: Spectrum, shares: readonly GasShare[]): string {
  const first = String(spectrum.peaks[0]?.mass ?? '');
  const last = String(spectrum.peaks[spectrum.peaks.length - 1]?.mass ?? '');
  const most = shares
    .slice(0, 4)
    .map(({ name, share }) => words.part(gasTitle(name), percent(share)))
    .join(', ');
  const strange = spectrum.peaks.filter((peak) => peak.unexplained > 0.5 && (peak.value ?? 0) > (spectrum.floor ?? 0));
  if (strange.length === 0) return words.says(first, last, most);
  return words.saysStrange(first, last, most, strange.map(({ mass }) => mass).join(', '));
}

export function profileSentence({ masses, values }: Profile, unit: string): string {
  const first = String(masses[0] ?? '');
  const last = String(masses[masses.length - 1] ?? '');
  let top = -1;
  values.forEach((value, i) => {
    if (value !== null && (top < 0 || value > (values[top] ?? Number.NEGATIVE_INFINITY))) top = i;
  });
  const value = values[top];
  return words.saysProfile(first, last, unit, plain(masses[top] ?? 0, 3), value == null ? '—' : scientific(value));
}
