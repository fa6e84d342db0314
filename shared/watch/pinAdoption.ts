/**
 * A pinned baseline takes the place of the one that was learned, with the first scan at or after the time it is valid
 * from, and once. What stands goes on being measured, from then on against the new reference. Other states are untouched.
 */
import { isReady } from './baseline.ts';
import { fits } from './channels.ts';
import { type Baseline, draftOf, type Memory, type OwnGas } from './memory.ts';
import { PIN_FORMAT, type PinContent } from './pins.ts';
import { holdState, type Note } from './relearn.ts';
import { rescaleBaseline } from './rescale.ts';
import { scaleChange, scaleOf } from './scale.ts';
import type { BaselinePin, WatchContext, WatchInput, WatchMemory } from './types.ts';

/** Ids that are remembered: a chamber is not pinned more often than that between two edits of its pins. */
const MOST_PINS = 200;

interface Step {
  readonly memory: Memory;
  readonly context: WatchContext;
  readonly input: WatchInput;
  readonly notes: Note[];
}

/** Ids of those that this memory has adopted or refused: it needs their content no more. */
export const adoptedPins = (memory: WatchMemory | null): readonly string[] => draftOf(memory)?.states.pins ?? [];

export function adoptPins(step: Step): void {
  const { memory, context, input } = step;
  const { pins } = context;
  if (!pins || pins.length === 0) return;
  const known = new Set(memory.states.pins);
  const due = pins.filter(({ id, validFromMs }) => validFromMs <= input.scan.atMs && !known.has(id));
  if (due.length === 0) return;
  for (const pin of due) step.notes.push(adopt(step, pin));
  memory.states = { ...memory.states, pins: [...memory.states.pins, ...due.map(({ id }) => id)].slice(-MOST_PINS) };
}

function adopt({ memory, context, input }: Step, pin: BaselinePin): Note {
  const content = pin.baseline as unknown as PinContent;
  const refused = (why: string): Note => ({
    code: 'pin-refused',
    text: `The baseline pinned for ${pin.state} was not taken over: ${why}`,
  });
  if (content.format !== PIN_FORMAT) return refused('it was made by another version; pin it again.');
  const baseline: Baseline = structuredClone(content.baseline);
  const old = memory.baselines[pin.state];
  if (!isAlike(baseline, pin.state, old, input)) {
    return refused('its masses or its scale are not those of the scans now.');
  }
  if (content.calibration !== context.calibration.version) {
    const change = scaleChange(content.scale, scaleOf(context.calibration, input.scan));
    if (change === null || change.loose) {
      return refused('the calibration has changed since by a factor that is not known; pin it again.');
    }
    if (change.moves) rescaleBaseline(baseline, change.factorAt);
    if (change.otherGases) baseline.gases = {};
  }
  baseline.pin = { id: pin.id, atMs: pin.validFromMs };
  if (isReady(old)) keepLearned(baseline, old);
  const sameMasses = old !== undefined && String(old.masses) === String(baseline.masses);
  memory.baselines[pin.state] = baseline;
  if (sameMasses) restart(memory, pin.state);
  else holdState(memory, pin.state);
  return { code: 'baseline-pinned', text: `What is usual in ${pin.state} is now the pinned baseline.` };
}

function isAlike(pinned: Baseline, state: string, old: Baseline | undefined, { scan, peaks }: WatchInput): boolean {
  if (scan.state === state) return pinned.scaled === peaks.scaled && fits(peaks, pinned.masses);
  if (old === undefined) return true;
  const known = new Set(pinned.masses);
  const shared = old.masses.filter((mass) => known.has(mass)).length;
  return pinned.scaled === old.scaled && shared >= 0.6 * pinned.masses.length;
}

/** Weeks know better than the chosen hours how a gas breathes; another detector reads the same chamber. */
function keepLearned(baseline: Baseline, old: Baseline): void {
  const before = new Map(old.own.map((own) => [own.gas, own]));
  baseline.own = baseline.own.map((own) => {
    const known = before.get(own.gas);
    return known && known.wobble.days > own.wobble.days ? learnedBefore(own, known, baseline, old) : own;
  });
  if (old.common.days > baseline.common.days) baseline.common = { ...old.common, mean: 0 };
  if (old.detector !== baseline.detector) return;
  baseline.detectors = { ...old.detectors };
  if (old.inUse === old.detector) return;
  // The variance of a pin is that of the detector it was learned with.
  const book = baseline.detectors[baseline.detector ?? ''];
  if (book) baseline.detectors[baseline.detector!] = { ...book, variance: null };
}

/** The regression on temperature is about the old mean and the old temperature: both are moved. */
function learnedBefore(own: OwnGas, known: OwnGas, baseline: Baseline, old: Baseline): OwnGas {
  const { weight, x, y, xx, xy } = known.regression;
  const dy = Math.log(old.mean[own.marker]! / baseline.mean[own.marker]!);
  const dx = (old.temperatureC ?? 0) - (baseline.temperatureC ?? 0);
  const told = own.marker === known.marker && old.temperatureC !== null && baseline.temperatureC !== null;
  const regression =
    told && Number.isFinite(dy)
      ? {
          weight,
          x: x + weight * dx,
          y: y + weight * dy,
          xx: xx + 2 * dx * x + weight * dx * dx,
          xy: xy + dy * x + dx * y + weight * dx * dy,
        }
      : own.regression;
  return { ...own, wobble: { ...known.wobble, mean: 0 }, slope: known.slope, regression };
}

/** Averages and counts that were taken from the old reference say nothing from the new one. */
function restart(memory: Memory, state: string): void {
  if (memory.state !== state) return;
  const { track } = memory;
  memory.track = { ...track, recent: [], mean: null, counts: {}, pending: null, peak: { mass: 0, scans: 0 } };
  memory.settling = null;
  memory.carried = null;
}
