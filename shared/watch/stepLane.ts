/**
 * Steps of what is always there. Against weeks of breathing a pump that loses a third of its speed, or water at half as
 * much again, is hardly a deviation; against the hour before it is a plain step. Asked only when a scan is not quiet and
 * no lane has called, only of the chamber's own gases, its pumps and the air that is always about, and only for what is far
 * beyond breathing:
 *
 *   z = dᵀΣ⁻¹(Δ − Δ₀) / √(dᵀΣ⁻¹d) > 6,  Σ with the breathing that the time since Δ₀ can hold (calm.ts), for 3 scans,
 *   and an amplitude of 0.15 decade of what is usual; of the pumps their dead band, since all gases move with them
 */
import { stepSince } from './calm.ts';
import type { Frame } from './frame.ts';
import type { Exceedance } from './lanes.ts';
import { calmed } from './naming.ts';
import { nullModel } from './nullModel.ts';
import { onDelayOf } from './onDelay.ts';
import { ANALYSER_DEAD_BAND, DEAD_BAND } from './parameters.ts';
import { isOwn, type Trigger } from './triggers.ts';
import { along, makeWhitener } from './whitening.ts';

const OWN_CAUSES: ReadonlySet<string> = new Set(['pumping', 'H2', 'H2O', 'COx', 'CH4', 'air']);
const STEP_SIGMA = 6;
/** Times the dead band: within an hour loads have been seen to move by a fifth, three of their sigma. */
const WIDER = ANALYSER_DEAD_BAND / DEAD_BAND;
const AIR_SHARE = 0.8;

/** What walls give off moves by itself, air does not: there the lanes' share of the dead band is asked, as naming does. */
function leastStep({ cause, least }: Trigger): number {
  if (cause.id === 'air') return AIR_SHARE * least;
  return isOwn(cause) ? least : WIDER * least;
}

export function judgeStep(frame: Frame, triggers: readonly Trigger[], quiet: boolean): Exceedance | null {
  const { memory, baseline, reference, middle, atMs, state, periodSeconds } = frame;
  const { calm } = memory;
  const step = quiet || state !== 'base' || reference.tail ? null : stepSince(calm.before, middle, frame);
  if (!step) {
    if (calm.steps) memory.calm = { ...calm, steps: {} };
    return null;
  }
  const model = nullModel({ memory, baseline, reference, lane: 'scan', atMs, change: step.change });
  const { variance, columns } = calmed(model, step.breathing);
  const whitener = makeWhitener(variance, columns);
  const whitened = whitener.apply(step.change);
  const delay = onDelayOf({ lane: 'scan', instrument: false, gross: false, witnessed: false, periodSeconds });
  const steps: Record<string, number> = {};
  let worst: Exceedance | null = null;
  for (const trigger of triggers) {
    if (!OWN_CAUSES.has(trigger.cause.id)) continue;
    const projection = along(trigger.direction, whitened);
    const information = whitener.information(trigger.direction);
    const z = projection / Math.sqrt(information);
    if (z < STEP_SIGMA || projection / information < leastStep(trigger)) continue;
    const scans = (calm.steps?.[trigger.key] ?? 0) + 1;
    steps[trigger.key] = scans;
    if (scans >= delay && (worst === null || z > worst.z)) worst = { trigger, lane: 'scan', z, scans };
  }
  memory.calm = { ...calm, steps };
  return worst;
}
