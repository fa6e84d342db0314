/**
 * How many sweeps it takes to see a pressure, and what response time that costs.
 *
 * A gas is seen when the height of its peak, S·P, reaches a multiple of the deviation that is left after averaging:
 * multiple × σ_A(N) ≤ S·P (minimum detectable partial pressure, ISO 14291). Only noise and drift are in it: a stronger
 * gas on the same mass is not averaged away.
 */
import type { PressureUnit } from '../units.ts';
import {
  type AllanCurve,
  curveFor,
  lowestOf,
  reliable,
  type StoredAllan,
  scaledTo,
  sweepsFor,
  turnOf,
  whiteSweeps,
} from './allanCurve.ts';
import { sayDuration, sayPressure, sayTimes } from './say.ts';

export interface PlanQuestion {
  /** As a sentence calls it. */
  readonly gasName: string;
  /** Wanted, Pa of the gas. */
  readonly pressurePa: number;
  readonly detectionMultiple: number;
  /** The peak by which it is seen. */
  readonly mass: number;
  /** N2-equivalent Pa at that peak per Pa of the gas. */
  readonly response: number;
  /** Time of one sweep, s. */
  readonly secondsPerSweep: number;
  /** Sweeps that the analyser averages into one scan now. */
  readonly sweepsPerScan: number;
  /** From the beginning of a scan to that of the next, s; null: not known. */
  readonly periodSeconds: number | null;
  /** Noise of one scan, in Pa of the gas, one standard deviation; null: not known. */
  readonly noisePa: number | null;
  readonly allan: StoredAllan | null;
  /** For pressures in sentences. */
  readonly unit: PressureUnit;
}

export interface CurvePoint {
  readonly sweeps: number;
  readonly seconds: number;
  readonly detectablePa: number;
  readonly whitePa: number;
}

export interface PlanAnswer {
  /** Null: not by averaging, or not known; `because` says which. */
  readonly sweeps: number | null;
  readonly responseSeconds: number | null;
  readonly bestSweeps: number | null;
  readonly leastDetectablePa: number | null;
  readonly nowPa: number | null;
  readonly because: string;
  readonly curve: readonly CurvePoint[];
}

/** Time that so many sweeps measure for, s. */
export const responseSeconds = (sweeps: number, secondsPerSweep: number): number => sweeps * secondsPerSweep;

/** A response time that is shorter than the time that passes meanwhile is worth a word from this ratio on. */
const WAITING_RATIO = 1.5;

const whatItCosts = (sweeps: number, question: PlanQuestion): string => {
  const { secondsPerSweep, sweepsPerScan, periodSeconds } = question;
  const seconds = responseSeconds(sweeps, secondsPerSweep);
  const scans = Math.ceil(sweeps / sweepsPerScan);
  const passes = periodSeconds === null ? 0 : scans * periodSeconds;
  const asSent =
    scans > 1 && passes > WAITING_RATIO * seconds
      ? ` As scans are sent now, ${scans} of them take ${sayDuration(passes)}.`
      : '';
  return `changes faster than ${sayDuration(seconds)} are then not seen.${asSent}`;
};

const withoutCurve = (question: PlanQuestion, noisePa: number): PlanAnswer => {
  const { detectionMultiple, sweepsPerScan, pressurePa, secondsPerSweep, gasName, unit } = question;
  const nowPa = detectionMultiple * noisePa;
  const sweeps = whiteSweeps(nowPa * Math.sqrt(sweepsPerScan), pressurePa);
  return {
    sweeps,
    responseSeconds: responseSeconds(sweeps, secondsPerSweep),
    bestSweeps: null,
    leastDetectablePa: null,
    nowPa,
    because:
      `One scan of ${sayTimes(sweepsPerScan, 'sweep')} sees ${sayPressure(nowPa, unit)} of ${gasName}. If noise goes on falling as the ` +
      `square root, ${sayTimes(sweeps, 'sweep')} ${sweeps === 1 ? 'sees' : 'see'} ${sayPressure(pressurePa, unit)}; ${whatItCosts(sweeps, question)} ` +
      'How far drift allows that is not known yet: too few scans of this analyser have been compared.',
    curve: [],
  };
};

const nothingKnown: PlanAnswer = {
  sweeps: null,
  responseSeconds: null,
  bestSweeps: null,
  leastDetectablePa: null,
  nowPa: null,
  because: 'The newest scan gives no noise in units of pressure, so nothing can be planned from it.',
  curve: [],
};

/** The curve in terms of the gas: its own mass as measured, another one moved to the noise of this mass. */
const curveOfGas = ({ allan, mass, noisePa, response }: PlanQuestion): AllanCurve | null => {
  const curve = curveFor(allan, mass);
  if (curve === null || curve.mass === mass) return curve;
  return noisePa === null ? null : scaledTo(curve, noisePa * response);
};

const whyNot = (question: PlanQuestion, curve: AllanCurve, leastPa: number): string => {
  const { gasName, unit, pressurePa, secondsPerSweep } = question;
  const turn = turnOf(curve);
  const last = turn ?? curve.points.at(-1) ?? curve.points[0];
  const sweeps = last.scans * curve.sweepsPerScan;
  const time = sayDuration(responseSeconds(sweeps, secondsPerSweep));
  const least = `${sayPressure(leastPa, unit)} of ${gasName}`;
  return turn === null
    ? `Averages of up to ${sayTimes(sweeps, 'sweep')} (${time}) have been compared on this analyser; they see ${least}. ` +
        `Whether longer ones reach ${sayPressure(pressurePa, unit)} is not known yet.`
    : `Not by averaging. Beyond ${sayTimes(sweeps, 'sweep')} (${time}) drift takes back what averaging gains: the least that ` +
        `can be seen is ${least}. Less noise needs a steadier or more sensitive analyser.`;
};

/** A mass that is not followed itself takes its curve from another. */
const elsewhere = ({ allan, mass }: PlanQuestion): string => {
  const followed = curveFor(allan, mass)?.mass;
  return followed === mass
    ? ''
    : ` m/z ${mass} is not followed over time itself: how averaging helps is taken from m/z ${followed}.`;
};

export function plan(question: PlanQuestion): PlanAnswer {
  const { detectionMultiple, response, pressurePa, secondsPerSweep, gasName, unit, mass } = question;
  const measured = curveOfGas(question);
  if (measured === null) return question.noisePa === null ? nothingKnown : withoutCurve(question, question.noisePa);
  const curve = reliable(measured);
  const detectablePa = (sigmaPa: number): number => (detectionMultiple * sigmaPa) / response;
  const leastDetectablePa = detectablePa(lowestOf(curve).sigmaPa);
  const [first] = curve.points;
  const turn = turnOf(curve);
  const sweeps = sweepsFor(curve, (response * pressurePa) / detectionMultiple);
  const because =
    sweeps === null
      ? whyNot(question, curve, leastDetectablePa)
      : `${sayTimes(sweeps, 'sweep')} ${sweeps === 1 ? 'sees' : 'see'} ${sayPressure(pressurePa, unit)} of ${gasName} at m/z ${mass}; ${whatItCosts(sweeps, question)}`;
  return {
    sweeps,
    responseSeconds: sweeps === null ? null : responseSeconds(sweeps, secondsPerSweep),
    bestSweeps: turn === null ? null : turn.scans * curve.sweepsPerScan,
    leastDetectablePa,
    // A scan of another length than those that were compared has its own share of the same white noise.
    nowPa: detectablePa(first.sigmaPa) * Math.sqrt(curve.sweepsPerScan / question.sweepsPerScan),
    because: because + elsewhere(question),
    curve: measured.points.map(({ scans, sigmaPa }) => ({
      sweeps: scans * curve.sweepsPerScan,
      seconds: responseSeconds(scans * curve.sweepsPerScan, secondsPerSweep),
      detectablePa: detectablePa(sigmaPa),
      whitePa: detectablePa(first.sigmaPa / Math.sqrt(scans)),
    })),
  };
}
