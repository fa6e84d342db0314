import type { Catalogue } from '../../catalogue/types.ts';
import { withoutOwnGas } from '../background.ts';
import type { Fit } from '../fit.ts';
import { gaugeEquivalent, gaugeReading } from '../gauge.ts';
import { type ScanHeights, scanHeights } from '../heights.ts';
import { makePrepare, type Prepared } from '../prepare.ts';
import { ownScale, scaleToGauge } from '../scaling.ts';
import type { AnalysisScan, Calibration } from '../types.ts';
import { usableHeights } from '../usable.ts';
import { changeVariance, type FittedScan } from './changeSigma.ts';
import { type Refusal, refuse } from './pooledScans.ts';

/**
 * What two scans of one analyser say of the change of each gas. Both are fitted on the masses that both can use and with
 * the same gases: one that shows in either scan stays in both, so that its change has an uncertainty in both.
 */
export interface ChangeQuestion {
  readonly before: AnalysisScan;
  readonly after: AnalysisScan;
  readonly calibration: Calibration;
  readonly catalogue: Catalogue;
  /** Multiplier gain that each was read with, where it was measured from a pair; absent or null: the one on record. */
  readonly gains?: { readonly before: number | null; readonly after: number | null };
}

export interface GasChange {
  readonly gas: string;
  readonly changePa: number;
  /** One standard deviation of the change, sensitivity left out. */
  readonly sigmaPa: number;
  readonly significant: boolean;
}

export type ChangeAnswer = { readonly ok: true; readonly gases: readonly GasChange[] } | Refusal;

/** A dozen gases are asked at once: at two standard deviations every second comparison would name one by chance. */
export const SIGNIFICANT_SIGMAS = 3;
/** An ionisation gauge repeats to about this from one reading to the next (common practice): the scale of shares. */
const GAUGE_REPEATS = 0.01;
/** What a gain from a pair is worth: its ratio differs a little from ion to ion (common practice). */
const PAIR_UNCERTAINTY = 0.05;
/** Fewer shared masses than this, and there is nothing to fit. */
const FEWEST_MASSES = 2;

export function changeBetween(question: ChangeQuestion): ChangeAnswer {
  const pair = fitPair(question);
  return pair.ok ? { ok: true, gases: changesOf(pair, question) } : pair;
}

/** Both scans fitted on one design. */
export interface FittedPair {
  readonly ok: true;
  readonly prepared: Prepared;
  /** Scaled to the gauge. */
  readonly relative: boolean;
  readonly before: FittedScan;
  readonly after: FittedScan;
}

export function fitPair(question: ChangeQuestion): FittedPair | Refusal {
  const read = readBoth(question);
  if (!read.ok) return read;
  const { calibration, catalogue } = question;
  const fitWith = (gases: Catalogue) => fitBoth(read, makePrepare(calibration, gases)(read.masses, read.leftOut));
  const first = fitWith(catalogue);
  if (first === null) return refuse('Nothing was found in one of the scans that the gauge could give a scale to.');
  const named = namedIn([first.before.fit, first.after.fit]);
  if (named.length === 0) return first;
  return fitWith({ ...catalogue, protectedIds: new Set([...catalogue.protectedIds, ...named]) }) ?? first;
}

interface Read {
  readonly ok: true;
  readonly masses: readonly number[];
  readonly leftOut: readonly number[];
  readonly relative: boolean;
  readonly before: ReadScan;
  readonly after: ReadScan;
}

interface ReadScan {
  readonly heights: Float64Array;
  readonly variance: Float64Array;
  /** Null: not needed, or not there. */
  readonly gaugePa: number | null;
}

/** Each scan with the gain that it was read with: a multiplier that has aged is no change of the chamber. */
function heightsOf({ before, after, calibration, gains }: ChangeQuestion): [ScanHeights, ScanHeights] {
  const withGain = (gain: number | null | undefined): Calibration =>
    gain == null ? calibration : { ...calibration, multiplierGain: gain, multiplierGainUncertainty: PAIR_UNCERTAINTY };
  return [scanHeights(before, withGain(gains?.before)), scanHeights(after, withGain(gains?.after))];
}

function readBoth(question: ChangeQuestion): Read | Refusal {
  const { before, after, calibration } = question;
  const found = heightsOf(question);
  const [a, b] = found.map(usableHeights) as [ReturnType<typeof usableHeights>, ReturnType<typeof usableHeights>];
  const masses = a.masses.filter((mass) => b.masses.includes(mass));
  if (masses.length < FEWEST_MASSES) return refuse('The two scans have hardly a mass in common.');
  if (found[0].scale !== found[1].scale) return refuse('One scan is in pressures, the other in relative signals.');
  if (![a, b].every(({ heights }) => heights.some((height) => height > 0))) {
    return refuse('One of the scans shows no signal.');
  }
  const relative = found[0].scale === 'relative';
  const gauges = [before, after].map((scan) => gaugeReading(scan, calibration.gaugeFactor));
  if (relative && gauges.some(({ kind }) => kind !== 'reading')) {
    return refuse('The analyser gives relative signals, and one of the scans came without a usable gauge reading.');
  }
  const [first, second] = [a, b].map(({ heights, variance, masses: own }, i): ReadScan => {
    const gauge = gauges[i]!;
    const rows = masses.map((mass) => own.indexOf(mass));
    return {
      heights: Float64Array.from(rows, (row) => heights[row]!),
      variance: Float64Array.from(rows, (row) => variance[row]!),
      gaugePa: gauge.kind === 'reading' ? gauge.pressurePa : null,
    };
  }) as [ReadScan, ReadScan];
  const leftOut = [...new Set([...a.leftOut, ...b.leftOut])].sort((x, y) => x - y);
  return { ok: true, masses, leftOut, relative, before: first, after: second };
}

function fitBoth({ before, after, relative }: Read, prepared: Prepared): FittedPair | null {
  const [first, second] = [before, after].map((read) => (relative ? fitShares(prepared, read) : fitOf(prepared, read)));
  return first && second ? { ok: true, prepared, relative, before: first, after: second } : null;
}

function fitOf(prepared: Prepared, { heights, variance }: ReadScan): FittedScan {
  const net = prepared.own === null ? { heights, variance } : withoutOwnGas({ heights, variance }, prepared.own, 1);
  const fit = prepared.fitter.fit(net.heights, net.variance);
  return { fit, scaling: ownScale(fit), variance };
}

/** As in analyse.ts: the gauge does not see the analyser's own gas, the shares hold it. */
function fitShares(prepared: Prepared, { heights, variance, gaugePa }: ReadScan): FittedScan | null {
  let fit = prepared.fitter.fit(heights, variance);
  const total = gaugeEquivalent(fit);
  if (prepared.own !== null && total > 0) {
    const net = withoutOwnGas({ heights, variance }, prepared.own, (gaugePa! + prepared.own.gaugePa) / total);
    fit = prepared.fitter.fit(net.heights, net.variance);
  }
  const scaling = scaleToGauge(fit, gaugePa!);
  return scaling === null ? null : { fit, scaling, variance };
}

/** Gases that entered by evidence. */
function namedIn(fits: readonly Fit[]): string[] {
  const ids = fits.flatMap(({ design, included }) =>
    design.columns.filter((column, j) => j < design.gasCount && included[j] === 1 && !column.isProtected),
  );
  return [...new Set(ids.map(({ id }) => id))];
}

function changesOf({ before, after, prepared, relative }: FittedPair, question: ChangeQuestion): GasChange[] {
  const unsteadiness = question.calibration.background?.unsteadiness ?? 0;
  // Shares have no pascal in which the own gas could be weighed: there it is part of what the gauge leaves open.
  const own = prepared.own === null || relative ? null : { gas: prepared.own, unsteadiness };
  const scale = Math.hypot(gainUncertainty(question), relative ? Math.SQRT2 * GAUGE_REPEATS : 0);
  const { columns, gasCount } = prepared.fitter.design;
  return columns.slice(0, gasCount).flatMap(({ id, reportable }, column): GasChange[] => {
    if (!reportable || before.fit.placeOf[column]! < 0 || after.fit.placeOf[column]! < 0) return [];
    const beforePa = before.fit.amounts[column]! * before.scaling.factor;
    const afterPa = after.fit.amounts[column]! * after.scaling.factor;
    const { noise, pattern } = changeVariance({ before, after, own, column });
    const changePa = afterPa - beforePa;
    const sigmaPa = Math.sqrt(noise + pattern + (scale * Math.max(beforePa, afterPa)) ** 2);
    return [
      {
        gas: id,
        changePa,
        sigmaPa,
        significant: Math.abs(changePa) >= SIGNIFICANT_SIGMAS * sigmaPa,
      },
    ];
  });
}

/** Between the two detectors the gain does not cancel; in relative signals it does. */
function gainUncertainty(question: ChangeQuestion): number {
  const { before, after } = question;
  if (before.detector === after.detector || before.unit !== 'A') return 0;
  return Math.max(...heightsOf(question).map(({ measured }) => measured.gain?.uncertainty ?? 0));
}
