import type { Scan } from '../../../shared/contract/scans.ts';
import type { PressureUnit } from '../../../shared/contract/words.ts';
import { fromPascal } from '../../../shared/units.ts';
import type { Moment } from '../physics/chamber.ts';
import { noGas } from '../physics/gases.ts';
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
  /** When its sensitivity was last measured and its mass scale tuned. */
  readonly calibratedMs: number;
  /** The valve to the chamber is closed: the analyser sees only its own gas. */
  readonly valveClosed: (atMs: number) => boolean;
}

export function makeAnalyser({
  instrument,
  gain,
  gaugeUnit,
  tellsTemperature,
  calibratedMs,
  valveClosed,
}: AnalyserSetting): AnalyserModel {
  const response = sourceResponse(instrument);
  const scanAt = (atMs: number, moment: Moment): Scan | null => {
    if (!moment.emission && instrument.unit === '1') return null;
    const peaks = moment.emission
      ? ionSignal({ instrument, response, partialPa: valveClosed(atMs) ? noGas() : moment.partialPa, atMs })
      : new Float64Array(instrument.lastMass + 1);
    const left = sensitivityLeft(instrument, atMs, calibratedMs) * gain(atMs);
    const signal = signalAtPoints(instrument, peaks, atMs, calibratedMs).map((pascal) => pascal * left);
    const detector = detectorAt(instrument, atMs);
    return {
      analyser: instrument.id,
      id: `${instrument.id}.${atMs / 1000}`,
      at: new Date(atMs).toISOString(),
      seconds: instrument.sweepSeconds,
      averages: instrument.averages,
      masses: { first: instrument.firstMass, last: instrument.lastMass, perUnit: instrument.perUnit },
      values: readOut({ ...instrument, ...detector }, signal, atMs),
      unit: instrument.unit,
      ...(detector.detector ? { detector: detector.detector } : {}),
      ...(moment.emission ? { totalPressure: { value: gaugeDigits(moment.gaugePa, gaugeUnit), unit: gaugeUnit } } : {}),
      state: moment.state,
      ...(tellsTemperature ? { temperatureC: Number(moment.hallCelsius.toFixed(1)) } : {}),
    };
  };
  return { instrument, scanAt };
}

const MINUTE_MS = 60_000;

/** The detector that takes this scan and its true gain. */
function detectorAt(instrument: Instrument, atMs: number): Pick<Instrument, 'detector' | 'gain'> {
  const { faradayEveryMinutes, multiplierLeft = 1, gain, detector } = instrument;
  if (faradayEveryMinutes !== undefined && Math.floor(atMs / MINUTE_MS) % faradayEveryMinutes === 0)
    return { detector: 'faraday', gain: 1 };
  return { ...(detector ? { detector } : {}), gain: gain * multiplierLeft };
}

/** Gauges show three digits. */
const gaugeDigits = (pascal: number, unit: PressureUnit): number => Number(fromPascal(pascal, unit).toPrecision(3));
