import type { Catalogue } from '../../catalogue/types.ts';
import { gasColumns } from '../columns.ts';
import { makeDesign } from '../design.ts';
import { type Fitter, makeFitter } from '../fit.ts';
import type { AnalysisScan, Background, Calibration } from '../types.ts';
import { type PooledScan, poolScans, type Refusal, refuse } from './pooledScans.ts';
import { hasMoved, type Steadiness, steadiness } from './steadiness.ts';

/**
 * The analyser's own gas from scans with the valve to the chamber closed: mean heights of the peaks that stand clear of
 * the noise, without foot and zero, which every scan brings along and which are fitted in every scan anyway.
 *
 * A closed analyser is not pumped through its port, so its gas stands higher than in service: an upper bound.
 */
export type BackgroundAnswer =
  | { readonly ok: true; readonly background: Background; readonly remarks: readonly string[] }
  | Refusal;

export interface ClosedValve {
  readonly scans: readonly AnalysisScan[];
  readonly calibration: Calibration;
  readonly catalogue: Catalogue;
}

/**
 * What an analyser makes of itself comes and goes by 10 to 15 % with the temperature around it and the age of the
 * filament (common practice): steadier marked scans do not promise a steadier month.
 */
export const LEAST_UNSTEADINESS = 0.15;
/** A peak of the mean of the scans counts from here on: a hundred masses are asked at once. */
const SEEN_SIGMAS = 5;
/** Up or down by more than this between the first and the last third: it has not settled. */
const SETTLED_WITHIN = 1.5;

export function closedValveBackground({ scans, calibration, catalogue }: ClosedValve): BackgroundAnswer {
  const inOrder = [...scans].sort((a, b) => a.atMs - b.atMs);
  const pool = poolScans(inOrder, { ...calibration, background: null });
  if (!pool.ok) return pool;
  if (pool.scale !== 'pascal') {
    return refuse('The analyser gives relative signals: a background needs a sensitivity or pressures.');
  }
  if (pool.cutOff.size > 0) {
    return refuse(`The peak at m/z ${[...pool.cutOff].join(', ')} is cut off at the end of the range.`);
  }
  const fitter = makeFitter(makeDesign(gasColumns(catalogue, pool.masses), calibration.principle));
  const nets = pool.scans.map((scan) => withoutFootAndZero(scan, fitter));
  const peaks = meanPeaks(pool.scans, nets).filter(({ mean, noise }) => mean > SEEN_SIGMAS * noise);
  if (peaks.length === 0) return refuse('No peak stands above the noise: the analyser shows nothing of its own.');
  const whole = steadiness(nets.map((net) => peaks.reduce((sum, { row }) => sum + net[row]!, 0)));
  if (hasMoved(whole, SETTLED_WITHIN)) return refuse(stillMoving(whole));
  const unsteadiness = Math.max(LEAST_UNSTEADINESS, whole.spread);
  return {
    ok: true,
    background: {
      peaks: Object.fromEntries(
        peaks.map(({ row, mean, sigma }) => [pool.masses[row]!, { heightPa: mean, sigmaPa: sigma }]),
      ),
      unsteadiness,
    },
    remarks: [
      ...pool.remarks,
      'With the valve closed the analyser is not pumped through its port, so its own gas stands higher than in service: this background is an upper bound, and what is left after it is a lower one.',
      `${peaks.length} peaks stand above the noise; as a whole they came and went by ${Math.round(100 * whole.spread)} %, and ${Math.round(100 * unsteadiness)} % is counted.`,
    ],
  };
}

function stillMoving({ course }: Steadiness): string {
  const percent = Math.round(100 * Math.abs(course - 1));
  return `The background ${course > 1 ? 'rose' : 'fell'} by ${percent} % over the marked scans: wait until it stands still, and see that the valve was closed in all of them.`;
}

function withoutFootAndZero({ heights, variance }: PooledScan, fitter: Fitter): Float64Array {
  const { design, amounts } = fitter.fit(heights, variance);
  const net = heights.slice();
  for (let j = design.gasCount; j < design.columns.length; j++) {
    const { id, rows, response } = design.columns[j]!;
    if (!design.free[j] && !id.startsWith('foot-')) continue;
    rows.forEach((row, k) => {
      net[row]! -= response[k]! * amounts[j]!;
    });
  }
  return net;
}

interface MeanPeak {
  readonly row: number;
  readonly mean: number;
  /** Noise of the mean. */
  readonly noise: number;
  /** Noise, and what the peak does beside what all peaks do together. */
  readonly sigma: number;
}

function meanPeaks(scans: readonly PooledScan[], nets: readonly Float64Array[]): MeanPeak[] {
  const count = nets.length;
  const wholes = nets.map((net) => net.reduce((sum, height) => sum + Math.max(0, height), 0));
  const usual = wholes.reduce((sum, whole) => sum + whole, 0) / count;
  return Array.from(nets[0]!, (_, row) => {
    const mean = nets.reduce((sum, net) => sum + net[row]!, 0) / count;
    const noise = scans.reduce((sum, { variance }) => sum + variance[row]!, 0) / count;
    const squares = nets.reduce((sum, net, i) => sum + (net[row]! - (mean * wholes[i]!) / usual) ** 2, 0);
    const beyond = Math.max(0, squares / (count - 1) - noise);
    return { row, mean, noise: Math.sqrt(noise / count), sigma: Math.sqrt(beyond + noise / count) };
  });
}
