/** What a late pump-down is told with. */
import { type SlopeClass, slopeClass } from '../analysis/fits/powerLaw.ts';
import type { GasEstimate } from '../analysis/types.ts';
import { SIGNATURES_BY_ID } from '../catalogue/signatures.ts';
import type { Alternative, Evidence } from '../contract/alerts.ts';
import { FORESEEABLE_SECONDS } from './parameters.ts';
import type { PumpDownNow } from './pumpDownLate.ts';
import type { Sureness } from './sureness.ts';
import type { Finding } from './types.ts';
import { capitalise, duration, number, pascal, times } from './wording.ts';

/** Dry air, mole fraction of argon (US Standard Atmosphere 1976). */
const ARGON_IN_AIR = 0.00934;
/** From here on one gas is most of what is left. */
const MOSTLY = 0.5;
const ENOUGH_AIR = 0.3;

interface Composition {
  /** Share of the sum of partial pressures; null: not among what is measured. */
  readonly water: number | null;
  /** By argon, which nothing on the way eats; at most one. */
  readonly air: number | null;
}

function compositionOf(gases: readonly GasEstimate[]): Composition {
  const sum = gases.reduce((total, { valuePa }) => total + Math.max(0, valuePa), 0);
  const share = (gas: string, per: number): number | null => {
    const estimate = gases.find((entry) => entry.gas === gas);
    if (!estimate || !(sum > 0)) return null;
    return estimate.detected ? Math.min(1, estimate.valuePa / per / sum) : 0;
  };
  return { water: share('H2O', 1), air: share('Ar', ARGON_IN_AIR) };
}

type Reason = 'air' | 'water' | 'flat' | 'polymer' | null;

/** The air of the volume itself goes steeply in the first hour: it is no leak. */
function reasonOf(slope: SlopeClass | null, { water, air }: Composition): Reason {
  if ((air ?? 0) > ENOUGH_AIR && slope !== 'volume' && slope !== null) return 'air';
  if ((water ?? 0) > MOSTLY) return 'water';
  return slope === 'flat' || slope === 'polymer' ? slope : null;
}

const BECAUSE: Record<Exclude<Reason, null>, string> = {
  air: 'what is left is air by its argon: look for a leak',
  water: 'what is left is mostly water: it is wet rather than leaking',
  flat: 'it has stopped falling, as with a leak or permeation',
  polymer: 'it falls as out of polymers: seals or cables give gas',
};

export function lateFinding(now: PumpDownNow, gases: readonly GasEstimate[]): Finding {
  const slope = now.slope ? slopeClass(now.slope) : null;
  const composition = compositionOf(gases);
  const reason = reasonOf(slope, composition);
  const sureness: Sureness = now.usualPa === null ? 'more likely than not' : 'likely';
  const entry = SIGNATURES_BY_ID['pump-down-late'];
  const parts = [saidNow(now), saidArrival(now), reason ? capitalise(BECAUSE[reason]) : null];
  return {
    summary: `${parts.filter((part) => part !== null).join('. ')}. ${capitalise(sureness)}.`,
    sureness,
    firstStep: entry.firstSteps[0],
    settle: entry.settles,
    evidence: evidenceOf(now, slope, composition),
    alternatives: alternativesOf(reason, slope),
  };
}

function saidNow({ ageSeconds, pressurePa, usualPa }: PumpDownNow): string {
  const age = duration(ageSeconds);
  if (usualPa === null) return `This pump-down has stopped falling: ${pascal(pressurePa)} after ${age}`;
  return `This pump-down is late: ${pascal(pressurePa)} after ${age}, ${times(pressurePa / usualPa)} the usual at this time`;
}

function saidArrival({ arrival, usualDurationSeconds, ageSeconds }: PumpDownNow): string | null {
  if (arrival === null) return null;
  const usually = usualDurationSeconds === null ? '' : `, usually after ${duration(usualDurationSeconds)}`;
  const foreseeable = duration(FORESEEABLE_SECONDS);
  const isFar = (at: number) => at - ageSeconds > FORESEEABLE_SECONDS;
  const more = (at: number) => (isFar(at) ? `more than ${foreseeable}` : duration(Math.max(60, at - ageSeconds)));
  if (!Number.isFinite(arrival.at)) return `At this rate it does not reach its level at rest${usually}`;
  if (isFar(arrival.at)) return `At this rate it is not at rest within ${foreseeable}${usually}`;
  const latest = Number.isFinite(arrival.latest) ? more(arrival.latest) : 'never';
  return `At this rate it is at rest in ${more(arrival.at)} (${more(arrival.earliest)} to ${latest})${usually}`;
}

const SLOPE_SAID: Record<SlopeClass, string> = {
  flat: 'flat: leak or permeation',
  polymer: 'near ½: diffusion out of polymers',
  water: 'near 1: water from walls',
  volume: 'steep: gas of the volume',
  unclear: 'between two classes',
};

function evidenceOf(now: PumpDownNow, slope: SlopeClass | null, { water, air }: Composition): Evidence[] {
  const { usualPa, lateAbovePa, usualDurationSeconds, arrival, pumpDowns } = now;
  const where = now.source === 'gauge' ? 'Gauge' : 'Sum of partial pressures';
  const finite = (value: number) => (Number.isFinite(value) ? value : null);
  const foreseen = (at: number) => (at - now.ageSeconds > FORESEEABLE_SECONDS ? null : at - now.ageSeconds);
  const rows: Evidence[] = [
    {
      name: 'Time since the pump-down began',
      value: now.ageSeconds,
      unit: 's',
      expected: usualDurationSeconds === null ? null : `at rest after ${duration(usualDurationSeconds)}`,
      verdict:
        usualDurationSeconds === null ? 'no good ones to compare with yet' : `${pumpDowns} good ones to compare with`,
    },
    {
      name: where,
      value: now.pressurePa,
      unit: 'Pa',
      expected: usualPa === null ? null : `${number(usualPa)}, late above ${number(lateAbovePa!)}`,
      ...(lateAbovePa !== null && { expectedHigh: lateAbovePa }),
      verdict: usualPa === null ? 'no longer falling' : `${times(now.pressurePa / usualPa)} the usual`,
    },
  ];
  if (now.slope)
    rows.push({
      name: 'Slope α of P ~ t^−α',
      value: now.slope.exponent,
      low: finite(now.slope.low),
      high: finite(now.slope.high),
      unit: '1',
      expected: 'about 1 for water',
      verdict: SLOPE_SAID[slope ?? 'unclear'],
    });
  if (arrival)
    rows.push({
      name: 'Time until it is at rest, at this rate',
      value: foreseen(arrival.at),
      low: foreseen(arrival.earliest),
      high: foreseen(arrival.latest),
      unit: 's',
      expected: null,
      verdict:
        foreseen(arrival.at) === null
          ? `not within ${duration(FORESEEABLE_SECONDS)} at this rate`
          : `level at rest ${pascal(now.targetPa!)}`,
    });
  if (air !== null)
    rows.push({
      name: 'Share of air, by argon',
      value: air,
      unit: '1',
      expected: `below ${ENOUGH_AIR}`,
      expectedHigh: ENOUGH_AIR,
      verdict: air > ENOUGH_AIR ? 'a leak' : 'not mainly air',
    });
  if (water !== null)
    rows.push({
      name: 'Share of water',
      value: water,
      unit: '1',
      expected: null,
      verdict: water > MOSTLY ? 'wet' : 'not mainly water',
    });
  return rows;
}

function alternativesOf(reason: Reason, slope: SlopeClass | null): Alternative[] {
  const air: Alternative = {
    signature: 'air-leak',
    why: `An air leak would hold the pressure where it is. ${SIGNATURES_BY_ID['air-leak'].settles}`,
  };
  const water: Alternative = {
    signature: 'water',
    why: `Wet walls fall as one over time. ${SIGNATURES_BY_ID.water.settles}`,
  };
  const pumping: Alternative = {
    signature: 'pumping-loss',
    why: `A weak pump or a valve that is not open leaves every gas higher. ${SIGNATURES_BY_ID['pumping-loss'].settles}`,
  };
  if (reason === 'air') return [air];
  if (reason === 'water') return [water, pumping];
  return slope === 'flat' ? [air, pumping] : [pumping, air];
}
