import type { Catalogue } from '../catalogue/types.ts';
import { gasColumns } from './columns.ts';
import { makeDesign } from './design.ts';
import { explainPeaks } from './explain.ts';
import { type Fit, type Fitter, makeFitter } from './fit.ts';
import { type GaugeReading, gaugeEquivalent, gaugeReading } from './gauge.ts';
import { type Note, type ScanHeights, scanHeights } from './heights.ts';
import { inseparablePair } from './inseparable.ts';
import { gasIntervals } from './intervals.ts';
import {
  aboveGaugeRemark,
  doubtfulNameRemarks,
  gaugeRemark,
  noScaleRemark,
  poorFitRemark,
  scaledRemark,
  unexplainedRemark,
} from './remarks.ts';
import { ownScale, type Scaling, scaleToGauge } from './scaling.ts';
import type { AnalysisScan, Calibration, GasEstimate, PeakList, ScanAnalysis } from './types.ts';

/**
 * From one scan to partial pressures with intervals.
 *
 * heights (heights.ts) → gases and artefacts that explain them (fit.ts) → scale (scaling.ts) → intervals
 * (intervals.ts) → what is left over (explain.ts) → sentences (remarks.ts).
 *
 * The answer depends on the scan, the calibration and the catalogue alone, never on earlier scans: a history that is
 * sent in again gives the same readings.
 */
export interface Analyser {
  analyse(scan: AnalysisScan): { readonly peaks: PeakList; readonly analysis: ScanAnalysis };
}

/** Mass grids that are kept ready: one analyser uses one or two, and gaps in a scan make a few more. */
const GRIDS_KEPT = 16;
/** Smaller numbers are what is left of a zero after a conversion; squares of them would vanish. */
const LEAST_SIGNAL = 1e-60;
/** The minimum detectable partial pressure is three standard deviations of the noise (a concept of ISO 14291). */
const FLOOR_SIGMAS = 3;

export function makeAnalyser(calibration: Calibration, catalogue: Catalogue): Analyser {
  const fitters = new Map<string, Fitter>();
  const fitterFor = (masses: readonly number[]): Fitter => {
    const key = masses.join();
    let fitter = fitters.get(key);
    if (fitter === undefined) {
      fitter = makeFitter(makeDesign(gasColumns(catalogue, masses), calibration.principle));
      if (fitters.size >= GRIDS_KEPT) fitters.delete(fitters.keys().next().value as string);
      fitters.set(key, fitter);
    }
    return fitter;
  };
  return {
    analyse(scan) {
      const heights = scanHeights(scan, calibration);
      const gauge = gaugeReading(scan);
      if (!heights.heights.some((height) => height > LEAST_SIGNAL)) return nothingSeen(heights, gauge);
      const fit = fitterFor(heights.masses).fit(heights.heights, heights.variance);
      if (heights.scale === 'pascal') return answer({ heights, gauge, fit, scaling: ownScale(fit) });
      const scaling = gauge.kind === 'reading' ? scaleToGauge(fit, gauge.pressurePa) : null;
      return scaling === null ? ratiosOnly(heights, gauge, fit) : answer({ heights, gauge, fit, scaling });
    },
  };
}

interface Found {
  readonly heights: ScanHeights;
  readonly gauge: GaugeReading;
  readonly fit: Fit;
  readonly scaling: Scaling;
}

function answer({ heights, gauge, fit, scaling }: Found): { peaks: PeakList; analysis: ScanAnalysis } {
  const { factor } = scaling;
  const intervals = gasIntervals(fit, scaling);
  const explanation = explainPeaks(fit, factor);
  const pair = inseparablePair(fit, intervals, scaling);
  const relative = heights.scale === 'relative';
  const chiSquarePerDof = fit.degreesOfFreedom > 0 ? fit.chiSquare / fit.degreesOfFreedom : null;
  const notes = collect([
    ...heights.notes,
    gaugeRemark(gauge, relative),
    relative && gauge.kind === 'reading' ? scaledRemark(gauge.pressurePa) : null,
    !relative && gauge.kind === 'reading' ? aboveGaugeRemark(fit, intervals, gauge.pressurePa) : null,
    pair === null ? null : { code: 'cannot-separate', text: pair.text },
    ...doubtfulNameRemarks(fit),
    unexplainedRemark(explanation),
    poorFitRemark(chiSquarePerDof),
  ]);
  const gases = intervals
    .filter(({ column, high }) => fit.design.columns[column]!.reportable && Number.isFinite(high))
    .map(
      ({ column, amount, low, high, detected, sigmaNoise, sigmaPattern }): GasEstimate => ({
        gas: fit.design.columns[column]!.id,
        valuePa: amount * factor,
        lowPa: low * factor,
        highPa: high * factor,
        detected,
        // Where a scan cannot tell a gas from others, all it knows of it is the limit.
        sigmaPa: Math.min(Math.hypot(sigmaNoise, sigmaPattern), high) * factor,
      }),
    );
  const read = gaugeEquivalent(fit) * factor;
  const analysis: ScanAnalysis = {
    gases,
    sumPa: gases.reduce((sum, gas) => sum + gas.valuePa, 0),
    ...rangeOf(heights, factor),
    unexplained: explanation.unexplained,
    // A signal that was scaled to the gauge agrees with it by construction: that says nothing.
    kappa: !relative && gauge.kind === 'reading' && read > 0 ? gauge.pressurePa / read : null,
    chiSquarePerDof,
    peaks: explanation.peaks,
    notes,
    ...(pair === null ? {} : { inseparable: pair }),
  };
  return { peaks: peakList(heights, factor, true, notes), analysis };
}

/** Ratios of peaks, when there is no scale. */
function ratiosOnly(heights: ScanHeights, gauge: GaugeReading, fit: Fit): { peaks: PeakList; analysis: ScanAnalysis } {
  const explanation = explainPeaks(fit, 1);
  const notes = collect([...heights.notes, gaugeRemark(gauge, true), noScaleRemark, unexplainedRemark(explanation)]);
  const { decades } = rangeOf(heights, 1);
  const analysis = {
    ...NOTHING,
    decades,
    unexplained: explanation.unexplained,
    chiSquarePerDof: fit.degreesOfFreedom > 0 ? fit.chiSquare / fit.degreesOfFreedom : null,
    notes,
  };
  return { peaks: peakList(heights, 1, false, notes), analysis };
}

const NOTHING: ScanAnalysis = {
  gases: [],
  sumPa: null,
  floorPa: null,
  decades: null,
  unexplained: null,
  kappa: null,
  chiSquarePerDof: null,
  peaks: [],
  notes: [],
};

function nothingSeen(heights: ScanHeights, gauge: GaugeReading): { peaks: PeakList; analysis: ScanAnalysis } {
  const text =
    heights.masses.length === 0
      ? 'No mass was measured in this scan.'
      : 'No mass shows any signal above zero: filament, detector or cable may be off.';
  const notes = collect([
    ...heights.notes,
    { code: 'no-signal', text },
    gaugeRemark(gauge, heights.scale === 'relative'),
  ]);
  return { peaks: peakList(heights, 1, heights.scale === 'pascal', notes), analysis: { ...NOTHING, notes } };
}

function rangeOf(heights: ScanHeights, factor: number): { floorPa: number; decades: number | null } {
  const floor = FLOOR_SIGMAS * heights.readNoiseAt28;
  let top = 0;
  for (const height of heights.heights) top = Math.max(top, height);
  return { floorPa: floor * factor, decades: top > 0 && floor > 0 ? Math.log10(top / floor) : null };
}

function peakList(heights: ScanHeights, factor: number, scaled: boolean, notes: readonly Note[]): PeakList {
  return {
    masses: heights.masses,
    heightPa: heights.heights.map((height) => height * factor),
    readNoisePa: heights.readNoiseAt28 * factor,
    shotPa: heights.shotAt28 * factor,
    scaled,
    notes,
  };
}

const collect = (notes: readonly (Note | null)[]): Note[] => notes.filter((note) => note !== null);
