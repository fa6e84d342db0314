/**
 * What people have set for a signature, applied where conditions are raised. A rule can move a priority, keep a
 * signature quiet in a state, widen a dead band or lengthen an on-delay; it cannot make a blind analyser look well.
 */
import type { Priority, Signature } from '../contract/words.ts';
import type { Memory } from './memory.ts';
import { ANALYSER_DEAD_BAND, DEAD_BAND } from './parameters.ts';
import { end } from './standing.ts';
import type { SignatureRule, WatchContext, WatchEvent } from './types.ts';

/** While one of these stands the chamber is not judged, or not in pascal: no state makes that right. */
const BLIND: ReadonlySet<Signature> = new Set([
  'silent',
  'frozen',
  'noise',
  'detector-saturated',
  'mass-shift',
  'impossible-pressure',
]);

export const ruleOf = ({ rules }: WatchContext, signature: Signature): SignatureRule | undefined =>
  rules?.find((rule) => rule.signature === signature);

export function isArmed(context: WatchContext, signature: Signature, state: string): boolean {
  const armed = ruleOf(context, signature)?.armedStates;
  return armed === undefined || BLIND.has(signature) || armed.includes(state);
}

/** Scans for which a condition must have lasted. */
export const onDelayScans = (context: WatchContext, signature: Signature): number =>
  ruleOf(context, signature)?.onDelayScans ?? 0;

/**
 * The least amplitude that is worth a call: `least` as built, widened to the dead band of the rule. Amplitudes of gases
 * are pascal and scale with the built-in band; those of the analyser are relative, and a fall by d decades is 1 − 10⁻ᵈ.
 */
export function widened(
  context: WatchContext,
  signature: Signature,
  { least, instrument }: { readonly least: number; readonly instrument: boolean },
): number {
  const decades = ruleOf(context, signature)?.leastDecades;
  if (decades === undefined) return least;
  const band = 10 ** decades - 1;
  return Math.max(least, (least * band) / (instrument ? ANALYSER_DEAD_BAND : DEAD_BAND));
}

/**
 * The one door: what a step has raised leaves it as the rules say. Conditions named from the spectrum have their priority
 * from `priorityOf`, which knows how sure it is; a limit has the priority that was set with it.
 */
export function governed(memory: Memory, context: WatchContext, events: readonly WatchEvent[]): WatchEvent[] {
  if (!context.rules || context.rules.length === 0) return [...events];
  return events.flatMap((event): readonly WatchEvent[] => {
    if (event.kind === 'returned') return [event];
    if (event.kind === 'raised' && !isArmed(context, event.signature, memory.state)) {
      // It has never been told: forgotten, it is raised once the state arms it.
      end(memory, event.atMs, ({ signature }) => signature === event.signature);
      return [];
    }
    const priority = setPriority(memory, context, event.signature);
    if (!priority || priority === event.priority) return [event];
    for (const standing of memory.standing) if (standing.signature === event.signature) standing.priority = priority;
    return [{ ...event, priority }];
  });
}

function setPriority(memory: Memory, context: WatchContext, signature: Signature): Priority | undefined {
  if (signature === 'limit') return undefined;
  const named = memory.standing.some((standing) => standing.signature === signature && standing.direction !== null);
  return named ? undefined : ruleOf(context, signature)?.priority;
}
