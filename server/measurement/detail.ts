/** Everything about one analyser's measurement, in the asked unit. */
import type { Calibration } from '../../shared/analysis/types.ts';
import type { AnalyserMeasurement, MeasurementLine } from '../../shared/contract/measurement.ts';
import type { PressureUnit } from '../../shared/contract/words.ts';
import type { CalibrationRow } from '../../shared/db/calibrations.ts';
import type { WholeMeasurement } from '../../shared/db/measurement.ts';
import { fromPascal } from '../../shared/units.ts';
import { presentCalibration } from '../calibrationEntry.ts';
import { presentLife } from '../courses.ts';
import { plain, pressure, rounded } from '../present.ts';
import { at, gainNow } from './line.ts';
import { suggestionOf } from './suggestion.ts';

export interface Detailed {
  readonly whole: WholeMeasurement;
  readonly line: MeasurementLine;
  readonly calibration: Calibration;
  /** Those in force now. */
  readonly inForce: readonly CalibrationRow[];
  readonly multiple: number;
  readonly unit: PressureUnit;
}

const TWO_SIDED_95 = 1.96;
/** More of the gas is the analyser's own than comes from the chamber. */
const ANALYSER_LIMITED = 0.5;

/** A share, 0 to 1, as it is given out. */
const share = (value: number): number => rounded(value);

const floorsOf = ({ whole, multiple, unit }: Detailed): AnalyserMeasurement['floors'] => {
  const noise = whole.measurement?.noisePerGasPa ?? {};
  return whole.gases.map(({ gas, detected, valuePa, highPa, sigmaPa: changePa }) => {
    const sigmaPa = noise[gas];
    const floor = sigmaPa === undefined ? null : pressure(multiple * sigmaPa, unit);
    return {
      gas,
      floor,
      limit: detected ? null : pressure(highPa, unit),
      detected,
      value: detected ? pressure(valuePa, unit) : null,
      changeSigma: pressure(changePa, unit),
    };
  });
};

const massScaleOf = ({ instrument }: WholeMeasurement): AnalyserMeasurement['massScale'] => {
  const scale = instrument?.massScale ?? null;
  return (
    scale && {
      offset: rounded(scale.offsetU),
      slopePer100: rounded(100 * scale.slope),
      usualOffset: rounded(scale.usualOffsetU),
      at: at(scale.atMs),
    }
  );
};

const widthsOf = ({ measurement }: WholeMeasurement): AnalyserMeasurement['widths'] => {
  const widths = measurement?.widthU ?? null;
  return widths && { half: rounded(widths.half), tenth: rounded(widths.tenth), twentieth: rounded(widths.twentieth) };
};

const noiseOf = ({ whole, unit }: Detailed): AnalyserMeasurement['noise'] => {
  const sigma = pressure(whole.measurement?.readNoisePa, unit);
  if (sigma === null || !whole.measurement) return null;
  return { sigma, from: whole.measurement.noiseFrom, scans: whole.instrument?.noise?.scans ?? null };
};

const gainDetailOf = ({ whole, calibration }: Detailed): AnalyserMeasurement['gainDetail'] => {
  const gain = gainNow(whole.measurement, whole.instrument);
  if (gain === null) return null;
  const reach = Math.exp(TWO_SIDED_95 * gain.uncertainty);
  return {
    value: rounded(gain.value),
    low: rounded(gain.value / reach),
    high: rounded(gain.value * reach),
    onRecord: calibration.multiplierGain,
    from: gain.from,
    at: gain.atMs === null ? null : at(gain.atMs),
    pairs: whole.instrument?.gain?.pairs ?? 0,
  };
};

export const candidatesOf = ({ measurement }: WholeMeasurement): AnalyserMeasurement['candidates'] =>
  (measurement?.candidates ?? []).map(({ mass, share: part, gases }) => ({
    mass,
    share: share(part),
    gases: [...gases],
  }));

const artefactsOf = ({
  whole: { measurement },
  unit,
}: Detailed): Pick<AnalyserMeasurement, 'foot' | 'desorbed' | 'ownGas' | 'leftOut'> => ({
  foot: measurement?.foot
    ? { removed: rounded(fromPascal(measurement.foot.removedPa, unit)), share: share(measurement.foot.share) }
    : null,
  desorbed: (measurement?.desorbed ?? []).map(({ ion, mass, heightPa, share: part }) => ({
    ion,
    mass,
    height: pressure(heightPa, unit),
    share: share(part),
  })),
  ownGas: (measurement?.ownGas ?? []).map(({ gas, share: part }) => ({
    gas,
    share: share(part),
    analyserLimited: part > ANALYSER_LIMITED,
  })),
  leftOut: (measurement?.leftOut ?? []).map(({ mass, why }) => ({ mass, why })),
});

const groupsOf = ({ whole, unit }: Detailed): AnalyserMeasurement['groups'] =>
  (whole.measurement?.groups ?? []).map(({ gases, sumPa, lowPa, highPa, correlation }) => ({
    gases: [...gases],
    sum: pressure(sumPa, unit),
    low: pressure(lowPa, unit),
    high: pressure(highPa, unit),
    correlation: rounded(correlation),
  }));

/** Counted from the newest scan: a history that is sent in late is due when it would have been. */
const lifeOf = ({ at: seen, courses }: WholeMeasurement): AnalyserMeasurement['life'] =>
  seen === null ? [] : (courses?.life ?? []).map((one) => presentLife(one, seen));

export const analyserMeasurement = (shown: Detailed): AnalyserMeasurement => {
  const { whole, line, calibration, inForce, multiple, unit } = shown;
  return {
    ...line,
    unit,
    detectionMultiple: multiple,
    scanId: whole.scanId,
    seconds: plain(whole.spectrum?.seconds),
    averages: whole.spectrum?.averages ?? null,
    scanPeriodSeconds: plain(whole.scanPeriodSeconds),
    massRange: whole.document.massRange ?? null,
    massScale: massScaleOf(whole),
    widths: widthsOf(whole),
    noise: noiseOf(shown),
    gainDetail: gainDetailOf(shown),
    floors: floorsOf(shown),
    ...artefactsOf(shown),
    groups: groupsOf(shown),
    candidates: candidatesOf(whole),
    lookAlikes: (whole.instrument?.lookAlikes ?? []).map((one) => ({ ...one, ratio: rounded(one.ratio) })),
    calibration: {
      version: calibration.version,
      sensitivityAmperesPerPascal: calibration.sensitivityAmperesPerPascal,
      inForce: inForce.map(presentCalibration),
    },
    life: lifeOf(whole),
    suggestion: suggestionOf(whole, calibration),
    notes: [...whole.notes],
  };
};
