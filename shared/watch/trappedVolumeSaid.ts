/** The shape of a condition in words: a clause for its sentence, a row of evidence, what else it is, and its priority. */
import type { Alternative, Evidence } from '../contract/alerts.ts';
import type { Priority } from '../contract/words.ts';
import type { Memory, Standing } from './memory.ts';
import { type DecaySeries, declineOf, halfLifeSeconds, perDay, shapeKnown, warmthOf } from './trappedVolume.ts';
import type { Finding } from './types.ts';
import { duration, number } from './wording.ts';

export interface ShapeSaid {
  /** A clause without a full stop; null: nothing worth a sentence. */
  readonly clause: string | null;
  readonly evidence: readonly Evidence[];
  readonly alternative: Alternative | null;
  /** Set where the shape says that it can wait. */
  readonly priority: Priority | null;
}

const NOTHING: ShapeSaid = { clause: null, evidence: [], alternative: null, priority: null };

/** A finding with what the course of its condition adds; `calmed`: the priority that it may fall to. */
export function withShape(
  memory: Memory,
  { signature, cause }: Pick<Standing, 'signature' | 'cause'>,
  { finding, priority }: { readonly finding: Finding; readonly priority: Priority },
): { readonly finding: Finding; readonly priority: Priority; readonly calmed: Priority | null } {
  const said = shapeSaid(memory, signature, cause);
  if (said.evidence.length === 0) return { finding, priority, calmed: null };
  return {
    finding: {
      ...finding,
      summary: said.clause === null ? finding.summary : beforeLast(finding.summary, said.clause),
      evidence: [...finding.evidence, ...said.evidence],
      alternatives: said.alternative ? [said.alternative, ...finding.alternatives].slice(0, 2) : finding.alternatives,
    },
    priority,
    calmed: said.priority,
  };
}

/** How sure it is stays the last word. */
function beforeLast(summary: string, clause: string): string {
  const at = summary.lastIndexOf('. ');
  return at < 0 ? `${summary} ${clause}.` : `${summary.slice(0, at)}. ${clause}${summary.slice(at)}`;
}

/** `signature` and `cause` of the condition; what is said of one that stands under the same cause. */
export function shapeSaid(memory: Memory, signature: string, cause: string): ShapeSaid {
  const series = shapeKnown(memory, cause);
  const decline = series ? declineOf(series.points) : null;
  if (series === null || decline === null) return NOTHING;
  const since = series.ventEndedAtMs === null ? '' : ' since the vent';
  const half = duration(halfLifeSeconds(decline));
  const span = duration(decline.hours * 3600);
  const row = rowOf(series, decline);
  const warm = series.shape === 'constant' ? warmthRow(series) : null;
  const evidence = warm ? [row, warm] : [row];
  const decays = series.shape === 'decays';
  if (signature === 'air-leak' || (signature === 'gas-inleak' && cause === 'N2')) {
    if (!decays)
      return {
        ...NOTHING,
        clause: `It has not changed for ${span}: a leak through the wall, not a trapped volume`,
        evidence,
      };
    const what =
      signature === 'air-leak' ? 'a trapped volume that empties' : 'a trapped volume that gives back vent gas';
    return {
      clause: `It halves every ${half}${since}: more likely ${what} than a leak through the wall`,
      evidence,
      alternative: {
        signature,
        why: 'A leak through the wall would stay what it is. Vent with another gas and see what comes back; helium outside settles it.',
      },
      priority: 'low',
    };
  }
  if (signature === 'water') {
    if (decays)
      return { ...NOTHING, clause: `It halves every ${half}${since}, as a wall that dries`, evidence, priority: 'low' };
    return { ...NOTHING, clause: `It has not fallen for ${span}, as a wet wall would`, evidence };
  }
  const clause = warm ? 'It is steady and follows the temperature, as permeation does' : null;
  return { ...NOTHING, clause, evidence };
}

function rowOf({ shape, ventEndedAtMs }: DecaySeries, decline: NonNullable<ReturnType<typeof declineOf>>): Evidence {
  const finite = (value: number) => (Number.isFinite(value) ? perDay(value) : null);
  return {
    name:
      ventEndedAtMs === null
        ? 'Its course since it was called, decades per day'
        : 'Its course since the vent, decades per day',
    value: perDay(decline.perHour),
    low: finite(decline.low),
    high: finite(decline.high),
    unit: '1/d',
    expected: '0 for a leak through the wall',
    verdict: shape === 'decays' ? `falls: it halves every ${duration(halfLifeSeconds(decline))}` : 'constant',
  };
}

function warmthRow({ points }: DecaySeries): Evidence | null {
  const warmth = warmthOf(points);
  if (warmth === null) return null;
  return {
    name: 'Rise per kelvin of the wall',
    value: warmth.perKelvin,
    low: warmth.low,
    high: Number.isFinite(warmth.high) ? warmth.high : null,
    unit: '1/K',
    expected: null,
    verdict: `follows the temperature, ${number(100 * warmth.perKelvin)} % per kelvin`,
  };
}
