/**
 * How much of a known fault there is now: the weighted median of height over shape, channel by channel.
 *
 * The shape is the fault as this instrument showed it, so every channel gives the same ratio but for noise. A median
 * and not least squares, because a second fault may add to some of the channels: as long as it owns less than half of
 * the weight it does not move the first. Weights are √height: tall peaks know more, one alone must not decide.
 */
export interface AmplitudeInput {
  readonly change: Float64Array;
  /** Per unit amplitude; channel 0 (gauge) counts only where there is nothing else. */
  readonly shape: Float64Array;
  /** One sigma of the change. */
  readonly sigma: (m: number) => number;
  /** Amplitude that the shape was seen with: channels under its noise are left out. */
  readonly seenAmplitude: number;
}

export interface Amplitude {
  readonly value: number;
  /** What noise alone would make of it. */
  readonly noise: number;
}

const LEAST_SIGMAS = 5;

export function amplitudeOf({ change, shape, sigma, seenAmplitude }: AmplitudeInput): Amplitude {
  const rows: { ratio: number; weight: number; noise: number }[] = [];
  let best: { ratio: number; weight: number; noise: number } | null = null;
  for (let m = 1; m < shape.length; m++) {
    const height = Math.abs(shape[m]!);
    if (height === 0) continue;
    const row = { ratio: change[m]! / shape[m]!, weight: Math.sqrt(height), noise: sigma(m) / height };
    if (best === null || row.noise < best.noise) best = row;
    if (height * seenAmplitude > LEAST_SIGMAS * sigma(m)) rows.push(row);
  }
  if (rows.length > 0) return { value: weightedMedian(rows), noise: best!.noise };
  if (best) return { value: best.ratio, noise: best.noise };
  const gauge = shape[0]!;
  return gauge === 0 ? { value: 0, noise: 0 } : { value: change[0]! / gauge, noise: sigma(0) / Math.abs(gauge) };
}

export function weightedMedian(rows: { ratio: number; weight: number }[]): number {
  rows.sort((a, b) => a.ratio - b.ratio);
  const half = rows.reduce((sum, { weight }) => sum + weight, 0) / 2;
  let sum = 0;
  for (const { ratio, weight } of rows) {
    sum += weight;
    if (sum >= half) return ratio;
  }
  return 0;
}
