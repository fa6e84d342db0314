/**
 * Limits that people set, in pascal. A gas is above when even the lower bound of its interval is; it is back when its
 * value is a tenth of a decade below the limit. Off scale or with partials above the total, pascal means nothing: held.
 */

import type { GasEstimate } from '../analysis/types.ts';
import { resolveGas } from '../catalogue/select.ts';
import { SIGNATURES_BY_ID } from '../catalogue/signatures.ts';
import { PRIORITIES, type Priority } from '../contract/words.ts';
import type { Memory } from './memory.ts';
import { offDelayOf } from './onDelay.ts';
import { DEAD_BAND_DECADES, ON_DELAY } from './parameters.ts';
import { gasName } from './patterns.ts';
import { end, raise } from './standing.ts';
import type { Finding, WatchContext, WatchEvent } from './types.ts';
import { capitalise, pascal, withInterval } from './wording.ts';

const OFF_FACTOR = 10 ** -DEAD_BAND_DECADES;
const causeOf = (gas: string): string => `limit:${gas}`;

export function judgeLimits(
  memory: Memory,
  { limits }: WatchContext,
  gases: readonly GasEstimate[],
  atMs: number,
): WatchEvent[] {
  const events: WatchEvent[] = [];
  const known = new Set<string>();
  for (const limit of limits) {
    const gas = resolveGas(limit.gas) ?? limit.gas;
    known.add(causeOf(gas));
    const estimate = gases.find((entry) => entry.gas === gas);
    if (!estimate || !Number.isFinite(estimate.valuePa)) continue;
    const above = estimate.detected && estimate.lowPa > limit.limitPa;
    const below = estimate.valuePa < limit.limitPa * OFF_FACTOR;
    const before = memory.limits[gas] ?? { above: 0, below: 0 };
    const count = { above: above ? before.above + 1 : 0, below: below ? before.below + 1 : 0 };
    memory.limits[gas] = count;
    const standing = memory.standing.find((entry) => entry.cause === causeOf(gas));
    if (standing && count.below >= offDelayOf(memory.periodSeconds))
      events.push(...end(memory, atMs, (entry) => entry === standing));
    if (!standing && count.above >= ON_DELAY) events.push(call(memory, estimate, limit, atMs));
  }
  // A limit that was taken away calls no longer.
  const gone = (cause: string) => cause.startsWith('limit:') && !known.has(cause);
  events.push(...end(memory, atMs, ({ cause }) => gone(cause)));
  return events;
}

function call(memory: Memory, estimate: GasEstimate, limit: WatchContext['limits'][number], atMs: number): WatchEvent {
  const priorities = memory.standing
    .filter(({ signature }) => signature === 'limit')
    .map(({ priority }) => priority as Priority);
  const priority = PRIORITIES.find((word) => word === limit.priority || priorities.includes(word)) ?? limit.priority;
  return raise(memory, atMs, {
    signature: 'limit',
    cause: causeOf(estimate.gas),
    gases: [estimate.gas],
    priority,
    finding: findingOf(estimate, limit.limitPa),
    lane: 'scan',
    direction: null,
    observed: null,
    amplitude: estimate.valuePa,
    leastAmplitude: limit.limitPa,
  });
}

function findingOf({ gas, valuePa, lowPa, highPa }: GasEstimate, limitPa: number): Finding {
  const entry = SIGNATURES_BY_ID.limit;
  return {
    summary: `${capitalise(gasName(gas))} is above its limit of ${pascal(limitPa)}: ${withInterval(valuePa, lowPa, highPa, 'Pa')}. Nearly certain.`,
    sureness: 'nearly certain',
    firstStep: entry.firstSteps[0],
    settle: entry.settles,
    evidence: [
      {
        name: capitalise(gasName(gas)),
        value: valuePa,
        low: lowPa,
        high: highPa,
        unit: 'Pa',
        expected: `below ${pascal(limitPa)}`,
        expectedLow: null,
        expectedHigh: limitPa,
        verdict: 'above the limit by more than its interval',
      },
    ],
    alternatives: [],
  };
}
