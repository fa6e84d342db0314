/** A chamber that recovers more slowly after gas than it did when its pump was fresh. */
import { trendArrival } from '../analysis/fits/arrival.ts';
import { SIGNATURES_BY_ID } from '../catalogue/signatures.ts';
import type { Evidence } from '../contract/alerts.ts';
import { followFault } from './faults.ts';
import type { Memory } from './memory.ts';
import { followRecovery, type RecoveryTrend, recoveryTrend } from './recovery.ts';
import type { WatchEvent, WatchInput } from './types.ts';
import { duration, number, times } from './wording.ts';

/** Half as long again as at first, beyond four times the scatter of one recovery; half of that and it is over. */
const LONGER = 1.5;
const OVER = 1.25;
const SIGMAS = 4;
/** So much longer the pump is nearly full. */
const MUCH_LONGER = 2;
/** By this factor a recovery is no longer one: the date of it is given. */
const LIMIT = 3;
const CAUSE = 'slow-recovery';

export function judgeRecovery(memory: Memory, input: WatchInput): WatchEvent[] {
  const added = followRecovery(memory, input);
  const standing = memory.standing.some(({ cause }) => cause === CAUSE);
  const { kept } = memory.overTime.recovery;
  const renewed = standing && kept.length === 0;
  if (!added && !renewed) return [];
  const trend = recoveryTrend(memory.overTime.recovery, kept.at(-1)?.state ?? '');
  if (trend === null && !renewed) return [];
  const isLonger =
    trend !== null && trend.factor > LONGER && Math.log(trend.factor) > SIGMAS * trend.sigma && trend.low > 0;
  return followFault(memory, input.scan.atMs, {
    signature: 'pumping-loss',
    cause: CAUSE,
    on: isLonger,
    off: renewed || (trend !== null && trend.factor < OVER),
    sureness: 'likely',
    priority: trend !== null && trend.factor > MUCH_LONGER ? 'medium' : 'low',
    summary: trend === null ? '' : summaryOf(trend),
    evidence: trend === null ? [] : evidenceOf(trend),
    alternatives: [
      {
        signature: 'gas-inleak',
        why: `A gas valve that closes slowly or leaks by would draw the recovery out too. ${SIGNATURES_BY_ID['gas-inleak'].settles}`,
      },
    ],
  });
}

/** Days until the recovery takes `LIMIT` times as long as at first, at this rate. */
function daysLeft({ nowSeconds, firstSeconds, perDay, low, high }: RecoveryTrend) {
  return trendArrival({ slope: perDay, low, high }, { x: 0, y: Math.log(nowSeconds / firstSeconds) }, Math.log(LIMIT));
}

function summaryOf(trend: RecoveryTrend): string {
  const { nowSeconds, firstSeconds } = trend;
  const { at, earliest, latest } = daysLeft(trend);
  const until = (days: number) => duration(Math.max(0, days) * 86_400);
  const forecast = Number.isFinite(at)
    ? `. At this rate it takes ${times(LIMIT)} as long in ${until(at)} (${until(earliest)} to ${Number.isFinite(latest) ? until(latest) : 'never'}): plan the regeneration before`
    : '';
  return `The chamber recovers more slowly after gas: time constant ${duration(nowSeconds)}, at first ${duration(firstSeconds)}${forecast}. Likely.`;
}

function evidenceOf(trend: RecoveryTrend): Evidence[] {
  const { nowSeconds, firstSeconds, sigma, perDay, low, high, recoveries } = trend;
  const left = daysLeft(trend);
  const finite = (value: number) => (Number.isFinite(value) ? value : null);
  return [
    {
      name: 'Time constant of the recovery after gas, latest three',
      value: nowSeconds,
      unit: 's',
      expected: `${number(firstSeconds)} at first, below ${number(LONGER * firstSeconds)}`,
      expectedHigh: LONGER * firstSeconds,
      verdict: `${times(nowSeconds / firstSeconds)} as long as at first`,
    },
    {
      name: 'Scatter of one recovery',
      value: sigma,
      unit: '1',
      expected: null,
      verdict: `natural log; ${recoveries} recoveries since the last regeneration or vent`,
    },
    {
      name: 'Lengthening per day',
      value: perDay,
      low: finite(low),
      high: finite(high),
      unit: '1/d',
      expected: 'about 0',
      verdict: 'a steady trend, as of a pump that fills',
    },
    {
      name: `Days until it takes ${LIMIT} times as long`,
      value: finite(left.at),
      low: finite(left.earliest),
      high: finite(left.latest),
      unit: 'd',
      expected: null,
      verdict: 'time left to plan a regeneration',
    },
  ];
}
