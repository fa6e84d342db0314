/** Said aloud only when the end is near: within a week, with 95 %. */
import type { Evidence } from '../contract/alerts.ts';
import { type Forecast, followLife, forecastsOf, type LifeKind, wayGone } from './endOfLife.ts';
import { followFault } from './faults.ts';
import type { Memory } from './memory.ts';
import type { WatchEvent, WatchInput } from './types.ts';
import { duration, number, times } from './wording.ts';

const WITHIN_DAYS = 7;
/** It is over when the end has moved this far away: a new multiplier, another voltage. */
const AWAY_DAYS = 21;
const DAY_SECONDS = 86_400;
const KINDS: readonly LifeKind[] = ['gain', 'sensitivity', 'floor'];
const NOTHING = { gain: [], sensitivity: [], floor: [] } as const;
const WORTH_A_FIT = 0.3;
const causeOf = (kind: LifeKind): string => `end-of-life:${kind}`;

export function judgeLife(memory: Memory, input: WatchInput): WatchEvent[] {
  if (!followLife(memory, input)) return [];
  const { life } = memory.overTime;
  return KINDS.flatMap((kind) => {
    const standing = memory.standing.some(({ cause }) => cause === causeOf(kind));
    // A fit costs more than a scan: only where a good part of the way is gone.
    if (!standing && wayGone(life[kind], kind) < WORTH_A_FIT) return [];
    const forecast = forecastsOf({ ...NOTHING, [kind]: life[kind] })[kind];
    if (forecast === null) return [];
    // What has been called for another reason is not called once more.
    const isSaid = memory.standing.some(
      ({ signature, cause }) => signature === 'sensitivity-drift' && !cause.startsWith('end-of-life'),
    );
    return followFault(memory, input.scan.atMs, {
      signature: 'sensitivity-drift',
      cause: causeOf(kind),
      on: forecast.days.latest <= WITHIN_DAYS && !isSaid,
      off: forecast.days.at > AWAY_DAYS,
      sureness: 'likely',
      priority: 'low',
      summary: summaryOf(kind, forecast),
      evidence: evidenceOf(kind, forecast),
    });
  });
}

const SAID: Record<LifeKind, { readonly what: string; readonly end: string }> = {
  gain: { what: 'The gain of the multiplier', end: 'half of what it began with' },
  sensitivity: { what: 'What the analyser shows of the gauge', end: 'half of what it began with' },
  floor: { what: 'The detection floor', end: 'ten times what it began with' },
};

const said = (days: number): string => (days <= 0 ? 'now' : duration(days * DAY_SECONDS));

function changed(kind: LifeKind, { now, first }: Forecast): string {
  const factor = kind === 'floor' ? 10 ** (now - first) : Math.exp(now - first);
  return kind === 'floor' ? `${times(factor)} its first value` : `${number(100 * factor)} % of its first value`;
}

function summaryOf(kind: LifeKind, forecast: Forecast): string {
  const { at, earliest, latest } = forecast.days;
  const { what, end } = SAID[kind];
  return `${what} is ${changed(kind, forecast)} and comes to ${end} in ${said(at)} (${said(earliest)} to ${said(latest)}): plan the exchange. Likely.`;
}

function evidenceOf(kind: LifeKind, forecast: Forecast): Evidence[] {
  const finite = (value: number) => (Number.isFinite(value) ? value : null);
  const unit = kind === 'floor' ? 'decades per day' : '1/d';
  return [
    {
      name: `${SAID[kind].what}, change per day`,
      value: forecast.perDay,
      low: finite(forecast.low),
      high: finite(forecast.high),
      unit,
      expected: 'about 0',
      verdict: changed(kind, forecast),
    },
    {
      name: `Days until ${SAID[kind].end}`,
      value: finite(forecast.days.at),
      low: finite(forecast.days.earliest),
      high: finite(forecast.days.latest),
      unit: 'd',
      expected: `above ${WITHIN_DAYS}`,
      expectedLow: WITHIN_DAYS,
      verdict: `from ${forecast.points} days`,
    },
  ];
}
