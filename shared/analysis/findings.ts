import { limitedByOwnGas, type OwnShare, ownGasRemark, ownShares } from './background.ts';
import { candidatesOf } from './candidates.ts';
import type { Explanation } from './explain.ts';
import type { Fit } from './fit.ts';
import type { GaugeReading } from './gauge.ts';
import { groupsOf } from './groups.ts';
import type { Note } from './heights.ts';
import { groupRemarks, type InseparablePair, inseparablePair } from './inseparable.ts';
import type { Known } from './instrument/known.ts';
import { type GasInterval, gasIntervals } from './intervals.ts';
import { desorbedOf, desorbedRemark, footOf, footRemark } from './ownSignals.ts';
import type { Prepared } from './prepare.ts';
import {
  aboveGaugeRemark,
  doubtfulNameRemarks,
  fragmentRemark,
  gaugeRemark,
  poorFitRemark,
  scaledRemark,
  unexplainedRemark,
} from './remarks.ts';
import type { Scaling } from './scaling.ts';
import type { GasEstimate, Measurement } from './types.ts';

/** What a fit with a scale says of gases, in pascal and in sentences. */
export interface FoundGases {
  readonly gases: readonly GasEstimate[];
  readonly pair: InseparablePair | null;
  readonly groups: Measurement['groups'];
  readonly candidates: Measurement['candidates'];
  readonly ownGas: Measurement['ownGas'];
  readonly foot: Measurement['foot'];
  readonly desorbed: Measurement['desorbed'];
  readonly notes: readonly Note[];
}

export interface FindingsQuestion {
  readonly fit: Fit;
  readonly scaling: Scaling;
  readonly explanation: Explanation;
  readonly prepared: Prepared;
  readonly gauge: GaugeReading;
  /** The heights had no scale of their own. */
  readonly relative: boolean;
  readonly known: Known;
}

export function foundGases(question: FindingsQuestion): FoundGases {
  const { fit, scaling, explanation, prepared, known } = question;
  const { factor } = scaling;
  const shares = prepared.own === null ? [] : ownShares(fit, prepared.own, factor);
  const intervals = limitedByOwnGas(gasIntervals(fit, scaling), shares);
  const pair = inseparablePair(fit, intervals, scaling);
  const groups = groupsOf(fit, intervals, scaling);
  const candidates = explanation.listed.length === 0 ? [] : candidatesOf(fit, explanation, prepared.strangers());
  const gases = estimatesOf(fit, intervals, factor);
  const foot = footOf(fit, factor);
  const desorbed = desorbedOf(fit, factor);
  const notes = [
    ...gaugeNotes(question, intervals),
    pair === null ? null : { code: 'cannot-separate', text: pair.text },
    ...groupRemarks(fit, groups, scaling),
    ownGasRemark(shares),
    footRemark(foot),
    desorbedRemark(desorbed),
    ...doubtfulNameRemarks(fit),
    fragmentRemark(gases, known.lookAlikes),
    unexplainedRemark(explanation, candidates),
    poorFitRemark(fit.degreesOfFreedom > 0 ? fit.chiSquare / fit.degreesOfFreedom : null),
  ].filter((note) => note !== null);
  return {
    gases,
    pair,
    groups: groups.map(({ columns, sum, low, high, correlation }) => ({
      gases: columns.map((j) => fit.design.columns[j]!.id),
      sumPa: sum * factor,
      lowPa: low * factor,
      highPa: high * factor,
      correlation,
    })),
    candidates,
    ownGas: shares.map(({ gas, share }: OwnShare) => ({ gas, share })),
    foot,
    desorbed,
    notes,
  };
}

function gaugeNotes(
  { fit, gauge, relative }: FindingsQuestion,
  intervals: readonly GasInterval[],
): readonly (Note | null)[] {
  if (gauge.kind !== 'reading') return [gaugeRemark(gauge, relative)];
  return [relative ? scaledRemark(gauge.pressurePa) : aboveGaugeRemark(fit, intervals, gauge.pressurePa)];
}

/** Gases whose main peak was measured. */
function estimatesOf({ design }: Fit, intervals: readonly GasInterval[], factor: number): GasEstimate[] {
  return intervals
    .filter(({ column, high }) => design.columns[column]!.reportable && Number.isFinite(high))
    .map(({ column, amount, low, high, detected, sigmaNoise, sigmaPattern }) => ({
      gas: design.columns[column]!.id,
      valuePa: amount * factor,
      lowPa: low * factor,
      highPa: high * factor,
      detected,
      // Where a scan cannot tell a gas from others, all it knows of it is the limit.
      sigmaPa: Math.min(Math.hypot(sigmaNoise, sigmaPattern), high) * factor,
    }));
}
