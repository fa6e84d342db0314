import type { Scan } from '../../../shared/contract/scans.ts';
import type { PressureUnit } from '../../../shared/contract/words.ts';
import { fromPascal } from '../../../shared/units.ts';
import type { Moment } from '../physics/chamber.ts';
import type { Instrument } from '../plant.ts';
import { ionSignal, sourceResponse } from './ionSource.ts';
import { signalAtPoints } from './peakShape.ts';
import { readOut, sensitivityLeft } from './readout.ts';

export interface AnalyserModel {
  readonly instrument: Instrument;
  /** null: an ion trap has nothing to say while it is dark. */
  readonly scanAt: (atMs: number, moment: Moment) => Scan | null;
}

export interface AnalyserSetting {
  readonly instrument: Instrument;
  readonly gain: (atMs: number) => number;
  readonly gaugeUnit: PressureUnit;
  readonly tellsTemperature: boolean;
  /** When its sensitivity was last measured. */
  readonly calibratedMs: number;
}

export function makeAnalyser({
  instrument,
  gain,
  gaugeUnit,
  tellsTemperature,
  calibratedMs,
}: AnalyserSetting): AnalyserModel {
  const response = sourceResponse(instrument);
  const scanAt = (atMs: number, moment: Moment): Scan | null => {
    if (!moment.emission && instrument.unit === '1') return null;
    const peaks = moment.emission
      ? ionSignal({ instrument, response, partialPa: moment.partialPa, atMs })
      : new Float64Array(instrument.lastMass + 1);
    const left = sensitivityLeft(instrument, atMs, calibratedMs) * gain(atMs);
    const signal = signalAtPoints(instrument, peaks, atMs).map((pascal) => pascal * left);
    return {
      analyser: instrument.id,
      id: `${instrument.id}.${atMs / 1000}`,
      at: new Date(atMs).toISOString(),
      seconds: instrument.sweepSeconds,
      averages: instrument.averages,
      masses: { first: instrument.firstMass, last: instrument.lastMass, perUnit: instrument.perUnit },
      values: readOut(instrument, signal, atMs),
      unit: instrument.unit,
      ...(instrument.detector ? { detector: instrument.detector } : {}),
      ...(moment.emission ? { totalPressure: { value: gaugeDigits(moment.gaugePa, gaugeUnit), unit: gaugeUnit } } : {}),
      state: moment.state,
      ...(tellsTemperature ? { temperatureC: Number(moment.hallCelsius.toFixed(1)) } : {}),
    };
  };
  return { instrument, scanAt };
}

/** Gauges show three digits. */
const gaugeDigits = (pascal: number, unit: PressureUnit): number => Number(fromPascal(pascal, unit).toPrecision(3));
