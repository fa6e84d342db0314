import type { Catalogue } from '../catalogue/types.ts';
import { type OwnGas, withoutOwnGas } from './background.ts';
import { explainPeaks } from './explain.ts';
import { foundGases } from './findings.ts';
import type { Fit } from './fit.ts';
import { type GaugeReading, gaugeEquivalent, gaugeReading } from './gauge.ts';
import { type Note, type ScanHeights, scanHeights } from './heights.ts';
import { type Known, knownOf } from './instrument/known.ts';
import { learn } from './instrument/learn.ts';
import { measurementOf } from './measurement.ts';
import { makePrepare, type Prepare, type Prepared } from './prepare.ts';
import { gaugeRemark, noScaleRemark, unexplainedRemark } from './remarks.ts';
import { ownScale, type Scaling, scaleToGauge } from './scaling.ts';
import type { AnalysisScan, Calibration, InstrumentMemory, PeakList, ScanAnalysis } from './types.ts';
import { leftOutRemark, type Usable, usableHeights, withUnusedPeaks } from './usable.ts';

/**
 * From one scan to partial pressures with intervals.
 *
 * heights (heights.ts) → those that can be believed (usable.ts), without what the analyser brings itself
 * (background.ts) → gases and artefacts that explain them (fit.ts) → scale (scaling.ts) → intervals (intervals.ts) → what
 * is left over (explain.ts) → sentences (remarks.ts).
 *
 * The answer depends on the scan, the calibration and the catalogue, and on what earlier scans told of the analyser
 * itself (instrument/: gain, mass scale, noise), which is handed in and given back: a history that is sent in again gives
 * the same readings. Without it a scan stands for itself.
 */
export interface Analyser {
  analyse(scan: AnalysisScan, memory?: InstrumentMemory | null): Answer;
}

export interface Answer {
  readonly peaks: PeakList;
  readonly analysis: ScanAnalysis;
  /** What the next scan of this analyser is to be given. */
  readonly instrument: InstrumentMemory;
}
type Analysed = Omit<Answer, 'instrument'>;

/** Smaller numbers are what is left of a zero after a conversion; squares of them would vanish. */
const LEAST_SIGNAL = 1e-60;
/** The minimum detectable partial pressure is three standard deviations of the noise (a concept of ISO 14291). */
const FLOOR_SIGMAS = 3;

export function makeAnalyser(calibration: Calibration, catalogue: Catalogue): Analyser {
  const prepare = makePrepare(calibration, catalogue);
  return {
    analyse(scan, memory = null) {
      const known = knownOf(memory, scan, calibration);
      const heights = scanHeights(scan, calibration, known);
      const analysed = analyseHeights({ scan, calibration, known, heights, prepare });
      return { ...analysed, instrument: learn(memory, { scan, calibration, heights, analysis: analysed.analysis }) };
    },
  };
}

interface Asked {
  readonly scan: AnalysisScan;
  readonly calibration: Calibration;
  readonly known: Known;
  readonly heights: ScanHeights;
}

interface Fitted extends Asked {
  readonly gauge: GaugeReading;
  readonly prepared: Prepared;
  readonly fit: Fit;
}

function analyseHeights({ prepare, ...asked }: Asked & { readonly prepare: Prepare }): Analysed {
  const { scan, calibration, heights } = asked;
  const gauge = gaugeReading(scan, calibration.gaugeFactor);
  const usable = usableHeights(heights);
  if (!usable.heights.some((height) => height > LEAST_SIGNAL)) return nothingSeen(asked, gauge);
  const prepared = prepare(usable.masses, usable.leftOut);
  if (heights.scale === 'pascal') {
    const fit = fitWithout(prepared, usable, 1);
    const gainError = scan.unit === 'A' ? (heights.measured.gain?.uncertainty ?? 0) : 0;
    return answer({ ...asked, gauge, prepared, fit }, ownScale(fit, gainError));
  }
  const fit = gauge.kind === 'reading' ? fitOfShares(prepared, usable, gauge.pressurePa) : fitAll(prepared, usable);
  const scaling =
    gauge.kind === 'reading' ? scaleToGauge(fit, gauge.pressurePa, calibration.gaugeFactorUncertainty) : null;
  return scaling === null ? ratiosOnly(asked, gauge, fit) : answer({ ...asked, gauge, prepared, fit }, scaling);
}

const fitAll = ({ fitter }: Prepared, { heights, variance }: Usable): Fit => fitter.fit(heights, variance);

function fitWithout(prepared: Prepared, usable: Usable, factor: number): Fit {
  const { heights, variance } = prepared.own === null ? usable : withoutOwnGas(usable, prepared.own, factor);
  return prepared.fitter.fit(heights, variance);
}

/**
 * Shares have no scale in which a background could be taken off. The gauge, which does not see the analyser's own gas,
 * gives it: it reads G where the shares hold G and the own gas, so that one unit of them is (G + own) / Σ s x.
 */
function fitOfShares(prepared: Prepared, usable: Usable, gaugePa: number): Fit {
  const whole = fitAll(prepared, usable);
  const total = gaugeEquivalent(whole);
  if (prepared.own === null || !(total > 0)) return whole;
  return fitWithout(prepared, usable, (gaugePa + prepared.own.gaugePa) / total);
}

function answer(fitted: Fitted, scaling: Scaling): Analysed {
  const { scan, calibration, heights, gauge, fit, prepared } = fitted;
  const relative = heights.scale === 'relative';
  const explanation = explainPeaks(fit, scaling.factor, ownHeights(prepared.own, scaling.factor));
  const found = foundGases({ ...fitted, explanation, scaling, relative });
  const notes = [...heights.notes, ...present([leftOutRemark(heights)]), ...found.notes];
  const read = gaugeEquivalent(fit) * scaling.factor;
  const analysis: ScanAnalysis = {
    gases: found.gases,
    sumPa: found.gases.reduce((sum, gas) => sum + gas.valuePa, 0),
    ...rangeOf(heights, scaling.factor),
    unexplained: explanation.unexplained,
    // A signal that was scaled to the gauge agrees with it by construction: that says nothing.
    kappa: !relative && gauge.kind === 'reading' && read > 0 ? gauge.pressurePa / read : null,
    chiSquarePerDof: chiSquarePerDof(fit),
    peaks: withUnusedPeaks(explanation.peaks, heights, scaling.factor),
    notes,
    ...(found.pair === null ? {} : { inseparable: found.pair }),
    measurement: measurementOf({ scan, calibration, heights, fit, factor: scaling.factor, scaling, found }),
  };
  return { peaks: peakList(heights, scaling.factor, true, notes), analysis };
}

const ownHeights = (own: OwnGas | null, factor: number): Float64Array | null =>
  own === null ? null : own.heightPa.map((height) => height / factor);

const chiSquarePerDof = ({ chiSquare, degreesOfFreedom }: Fit): number | null =>
  degreesOfFreedom > 0 ? chiSquare / degreesOfFreedom : null;

/** Ratios of peaks, when there is no scale. */
function ratiosOnly({ scan, calibration, heights }: Asked, gauge: GaugeReading, fit: Fit): Analysed {
  const explanation = explainPeaks(fit, 1);
  const notes = [
    ...heights.notes,
    ...present([leftOutRemark(heights), gaugeRemark(gauge, true), noScaleRemark, unexplainedRemark(explanation)]),
  ];
  const { decades } = rangeOf(heights, 1);
  const analysis = {
    ...NOTHING,
    decades,
    unexplained: explanation.unexplained,
    chiSquarePerDof: chiSquarePerDof(fit),
    notes,
    measurement: measurementOf({ scan, calibration, heights, fit, factor: null, found: null }),
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

function nothingSeen({ scan, calibration, heights }: Asked, gauge: GaugeReading): Analysed {
  const text =
    heights.masses.length === 0
      ? 'No mass was measured in this scan.'
      : 'No mass shows any signal above zero: filament, detector or cable may be off.';
  const notes = [
    ...heights.notes,
    ...present([leftOutRemark(heights), { code: 'no-signal', text }, gaugeRemark(gauge, heights.scale === 'relative')]),
  ];
  const scaled = heights.scale === 'pascal';
  const factor = scaled ? 1 : null;
  const measurement = measurementOf({ scan, calibration, heights, fit: null, factor, found: null });
  return { peaks: peakList(heights, 1, scaled, notes), analysis: { ...NOTHING, notes, measurement } };
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

const present = (notes: readonly (Note | null)[]): Note[] => notes.filter((note) => note !== null);
