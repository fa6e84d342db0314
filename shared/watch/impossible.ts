/**
 * Partial pressures above the total. Σ s_i P_i, weighted with the gauge's own gas factors, is what the gauge should
 * read; κ = gauge / Σ s_i P_i. Gauge and analyser may honestly differ by tens of per cent (Redhead: ±15 % between
 * gauges, and relative sensitivities are known no better), so one of two things must hold for three scans:
 *
 *   moved:  the sum is more than 1.4 × the gauge, and more than 0.15 decade above what this chamber usually shows;
 *   gross:  even with every gas at the lower end of its interval the sum is a third above the gauge.
 */

import type { ScanAnalysis } from '../analysis/types.ts';
import { SIGNATURES_BY_ID } from '../catalogue/signatures.ts';
import type { Memory } from './memory.ts';
import { offDelayOf } from './onDelay.ts';
import { ON_DELAY, WAIT_SCANS } from './parameters.ts';
import { gaugeFactor } from './patterns.ts';
import { sentence } from './sentence.ts';
import { type Condition, end, raise, stands } from './standing.ts';
import { LIMIT_STATES } from './states.ts';
import type { Finding, WatchEvent } from './types.ts';
import { number } from './wording.ts';

const ABOVE_MOVED = 1.4;
const MOVED_FACTOR = 10 ** 0.15;
/** The intervals of the gases do not hold the gauge's own error. */
const ABOVE_GROSS = 1.3;
/** Dead band of a tenth of a decade between on and off. */
const OFF_FACTOR = 10 ** -0.1;
/** κ follows over some hundred scans. */
const LEAST_SHARE = 1 / 300;

export const partialsAboveTotal = (kappa: number | null): boolean =>
  kappa !== null && kappa > 0 && 1 / kappa > ABOVE_MOVED;

/** Σ s_i P_i over the gauge with every gas at its lower bound: an unknown transmission errs in all of them alike. */
function lowerBound(analysis: ScanAnalysis, above: number): number {
  let sum = 0;
  let low = 0;
  for (const { gas, valuePa, lowPa, detected } of analysis.gases) {
    if (!detected) continue;
    sum += gaugeFactor(gas) * valuePa;
    low += gaugeFactor(gas) * lowPa;
  }
  return sum > 0 ? (above * low) / sum : 0;
}

/** `bound`: of the lower ends, where it is known already. */
function isImpossible(analysis: ScanAnalysis, usual: number | null, scale: number, bound?: number): boolean {
  const { kappa } = analysis;
  if (kappa === null || !(kappa > 0)) return false;
  const above = 1 / kappa;
  if (usual !== null && above > ABOVE_MOVED * scale && above > (MOVED_FACTOR * scale) / usual) return true;
  return (bound ?? lowerBound(analysis, above)) > ABOVE_GROSS * scale;
}

/** This scan alone, without waiting for the next. */
export const looksImpossible = (memory: Memory, analysis: ScanAnalysis): boolean =>
  isImpossible(analysis, memory.settling ? null : usualKappa(memory), 1);

export function judgeImpossible(memory: Memory, analysis: ScanAnalysis, atMs: number): WatchEvent[] {
  const state = memory.impossible;
  if (analysis.kappa === null) return [];
  const open = stands(memory, 'impossible-pressure');
  // In a tail other gases lead than those that κ was learned with, and each errs by its own sensitivity.
  const usual = memory.settling ? null : usualKappa(memory);
  const bound = lowerBound(analysis, 1 / analysis.kappa);
  const hit = isImpossible(analysis, usual, 1, bound);
  state.above = hit ? state.above + 1 : 0;
  state.below = isImpossible(analysis, usual, OFF_FACTOR, bound) ? 0 : state.below + 1;
  if (open) {
    const own = (s: Memory['standing'][number]) => s.signature === 'impossible-pressure';
    return state.below >= offDelayOf(memory.periodSeconds) ? end(memory, atMs, own) : [];
  }
  if (state.above < ON_DELAY || isExplained(memory)) return [];
  const condition: Condition = {
    signature: 'impossible-pressure',
    cause: 'impossible',
    gases: [],
    priority: SIGNATURES_BY_ID['impossible-pressure'].priority.usual,
    finding: findingOf(analysis, usualKappa(memory)),
    lane: 'scan',
    direction: null,
    observed: null,
    amplitude: 1,
    leastAmplitude: 1,
  };
  return [raise(memory, atMs, condition)];
}

/**
 * What already stands has moved the sum: a drift, gas of the ioniser, a heavy vapour whose gauge factor is a guess.
 * A change that is being named gets ten scans to be it.
 */
function isExplained({ standing, track }: Memory): boolean {
  if (standing.some(({ signature }) => signature === 'sensitivity-drift')) return true;
  if (standing.some(({ direction, signature }) => direction !== null && signature !== 'argon-bursts')) return true;
  return track.pending !== null && track.pending.scans <= WAIT_SCANS;
}

/** Pascal means nothing: partials above the total, whether told as such or as the drift that has made them so. */
export const isWithoutScale = (memory: Memory): boolean =>
  stands(memory, 'impossible-pressure') || (memory.impossible.above >= ON_DELAY && stands(memory, 'sensitivity-drift'));

/**
 * What κ usually is in this state; null: not known. Each gas errs by its own sensitivity, so that it is another number
 * where another gas leads: while gas is let in it goes with the recipe, and nothing is usual.
 */
export const usualKappa = ({ state, impossible }: Pick<Memory, 'state' | 'impossible'>): number | null =>
  state === 'base' ? impossible.kappa : (impossible.others?.[state]?.kappa ?? null);

/** From scans that are not in question. */
export function learnKappa(memory: Memory, kappa: number | null): void {
  const { state, impossible } = memory;
  if (kappa === null || !(kappa > 0) || !LIMIT_STATES.has(state)) return;
  const before = state === 'base' ? impossible : (impossible.others?.[state] ?? { kappa: null, scans: 0 });
  const scans = before.scans + 1;
  const from = Math.log(before.kappa ?? kappa);
  const now = Math.exp(from + Math.max(LEAST_SHARE, 1 / scans) * (Math.log(kappa) - from));
  if (state === 'base') Object.assign(impossible, { kappa: now, scans });
  else impossible.others = { ...impossible.others, [state]: { kappa: now, scans } };
}

function findingOf(analysis: ScanAnalysis, usual: number | null): Finding {
  const entry = SIGNATURES_BY_ID['impossible-pressure'];
  const summary = sentence({
    signature: 'impossible-pressure',
    cause: 'impossible',
    gases: [],
    changes: [],
    inflow: null,
    inflowBy: null,
    sureness: 'nearly certain',
    runnerUp: null,
    growing: false,
    slow: false,
    oxygenEaten: false,
    amplitude: 0,
    masses: [],
    kappa: analysis.kappa,
    scaled: true,
  });
  return {
    summary,
    sureness: 'nearly certain',
    firstStep: entry.firstSteps[0],
    settle: entry.settles,
    evidence: evidenceOf(analysis, usual),
    alternatives: [
      {
        signature: 'sensitivity-drift',
        why: 'The gauge may be right and the analyser high, or the other way round: a second gauge tells.',
      },
    ],
  };
}

/** What the gauge should have read, what it read, and by how much the one is above the other. */
function evidenceOf(analysis: ScanAnalysis, usual: number | null): Finding['evidence'] {
  const above = 1 / analysis.kappa!;
  const seen = analysis.gases.filter(({ detected }) => detected);
  const sumPa = seen.reduce((sum, { gas, valuePa }) => sum + gaugeFactor(gas) * valuePa, 0);
  const usualAbove = usual === null ? '' : `; usually ${number(1 / usual)}`;
  return [
    {
      name: 'What the gauge should read for these gases',
      value: sumPa,
      low: sumPa > 0 ? (sumPa * lowerBound(analysis, above)) / above : null,
      high: null,
      unit: 'Pa',
      expected: null,
      verdict: 'partial pressures, each with its gauge factor',
    },
    {
      name: 'What the gauge reads',
      value: sumPa / above,
      unit: 'Pa',
      expected: 'as much as the gases together',
      expectedLow: sumPa / ABOVE_MOVED,
      expectedHigh: null,
      verdict: 'less than the parts',
    },
    {
      name: 'Sum of partial pressures over the gauge',
      value: above,
      low: lowerBound(analysis, above),
      high: null,
      unit: '1',
      expected: `at most ${ABOVE_MOVED}${usualAbove}`,
      expectedLow: null,
      expectedHigh: ABOVE_MOVED,
      verdict: 'more than the gauge can have seen',
    },
  ];
}
