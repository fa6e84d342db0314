/**
 * The measures with their targets. Figures and where they are from:
 * - about 1 call in 10 minutes very likely acceptable, 2 the most that can be managed; more than 10 in 10 minutes in
 *   less than 1 % of periods; floods less than 1 % of the time; the ten worst 1 to 5 % of the load; fewer than 5 stale
 *   on any day; priorities 80 / 15 / 5 %; at least 30 days of data: ANSI/ISA-18.2-2016 §16.4 (read in secondary sources)
 * - 144 calls a day: IEC 62682:2014 (read in a secondary source); no more than one in ten minutes over the long term:
 *   HSE CHIS6
 * - chattering and fleeting: none tolerated (ISA-18.2, secondary)
 * - 15 calls a shift for 100 chambers, and half of the closed alerts leading to an action: goals of our own
 */
import type { Measure } from '../../shared/contract/performance.ts';
import type { Annunciation } from './annunciations.ts';
import { CROWDED_ABOVE, DAY_MS, type Flood, type Period, periodsIn, perTenMinutes } from './annunciations.ts';

export interface Load {
  readonly period: Period;
  readonly calls: readonly Annunciation[];
  readonly floods: readonly Flood[];
  readonly perDay: readonly number[];
  readonly topShare: number | null;
  readonly chattering: number;
  readonly fleeting: number;
  readonly stale: number;
  readonly chambers: number;
  readonly closed: { readonly total: number; readonly acted: number; readonly planned: number };
}

const ISA = 'ANSI/ISA-18.2-2016, from secondary sources';
const OWN = 'our own goal';
/** Below this many calls a share says nothing. */
const LEAST_CALLS = 20;
const LEAST_DAYS = 30;
/** Three shifts a day. */
const SHIFTS = 3;

type Judged = Omit<Measure, 'met' | 'why'> & { readonly why?: string };

/** Met: at or below the bound. Nothing to judge without a value or a bound. */
const judged = ({ why, ...measure }: Judged): Measure => ({
  ...measure,
  met: measure.value === null || measure.targetHigh === null ? null : measure.value <= measure.targetHigh,
  why: why ?? null,
});

export function measuresOf(load: Load): Measure[] {
  const { period, calls, floods, chambers } = load;
  const days = (period.toMs - period.fromMs) / DAY_MS;
  const periods = periodsIn(period);
  const busiest = Math.max(0, ...load.perDay);
  const crowded = [...perTenMinutes(calls).values()].filter((here) => here.length > CROWDED_ABOVE).length;
  const floodMs = floods.reduce((sum, flood) => sum + flood.toMs - flood.fromMs, 0);
  const few = calls.length < LEAST_CALLS ? `Only ${calls.length} calls: a share of them says nothing.` : undefined;
  return [
    judged({
      id: 'per-ten-minutes',
      name: 'Calls in ten minutes, on average',
      value: calls.length / periods,
      unit: '1',
      target: 'about 1; 2 at the most',
      targetHigh: 1,
      source: `${ISA}; HSE CHIS6`,
    }),
    judged({
      id: 'per-day',
      name: 'Calls a day, on average',
      value: calls.length / days,
      unit: '1/d',
      target: 'at most 144',
      targetHigh: 144,
      source: 'IEC 62682:2014, from a secondary source',
    }),
    judged({
      id: 'busiest-day',
      name: 'Calls on the busiest day',
      value: busiest,
      unit: '1/d',
      target: 'an average hides floods: look at the worst day too',
      targetHigh: null,
      source: 'common practice',
    }),
    judged({
      id: 'per-shift-and-hundred',
      name: 'Calls a shift for 100 chambers',
      value: chambers === 0 ? null : ((calls.length / days / SHIFTS) * 100) / chambers,
      unit: '1',
      target: 'at most 15',
      targetHigh: 15,
      source: OWN,
      ...(chambers === 0 ? { why: 'No chamber is watched here.' } : {}),
    }),
    judged({
      id: 'crowded-periods',
      name: 'Ten-minute periods with more than ten calls',
      value: crowded / periods,
      unit: 'share',
      target: 'less than 1 %',
      targetHigh: 0.01,
      source: ISA,
    }),
    judged({
      id: 'flood-time',
      name: 'Time in floods',
      value: floodMs / (period.toMs - period.fromMs),
      unit: 'share',
      target: 'less than 1 %',
      targetHigh: 0.01,
      source: ISA,
    }),
    judged({
      id: 'top-ten-share',
      name: 'Share of the ten that call most',
      value: few === undefined ? load.topShare : null,
      unit: 'share',
      target: 'at most 5 %; a few alerts often make 20 to 80 %',
      targetHigh: 0.05,
      source: ISA,
      ...(few === undefined ? {} : { why: few }),
    }),
    judged({
      id: 'chattering',
      name: 'Alerts that chatter',
      value: load.chattering,
      unit: '1',
      target: 'none',
      targetHigh: 0,
      source: ISA,
    }),
    judged({
      id: 'fleeting',
      name: 'Alerts gone before a person could act',
      value: load.fleeting,
      unit: '1',
      target: 'none',
      targetHigh: 0,
      source: ISA,
    }),
    judged({
      id: 'stale',
      name: 'Alerts that have stood for more than a day',
      value: load.stale,
      unit: '1',
      target: 'fewer than 5, each with a plan',
      targetHigh: 4,
      source: ISA,
    }),
    actionRatio(load),
    judged({
      id: 'days',
      name: 'Days of scans looked at',
      value: days,
      unit: 'd',
      target: 'at least 30',
      targetHigh: null,
      source: ISA,
      ...(days < LEAST_DAYS ? { why: 'Shorter than the standard asks for: the figures may not last.' } : {}),
    }),
  ];
}

/** The one measure that wants to be high: half at least. */
function actionRatio({ closed }: Load): Measure {
  const judgedOn = closed.total - closed.planned;
  const value = judgedOn === 0 ? null : closed.acted / judgedOn;
  return {
    id: 'action-ratio',
    name: 'Closed alerts that led to an action',
    value,
    unit: 'share',
    target: 'at least 50 %, planned work left out',
    targetHigh: null,
    source: OWN,
    met: value === null ? null : value >= 0.5,
    why: value === null ? 'No alert has been closed with a cause.' : null,
  };
}
