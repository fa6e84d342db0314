import { describe, expect, test } from 'vitest';
import { draftOf } from '../../../shared/watch/memory.ts';
import { adoptPins } from '../../../shared/watch/pinAdoption.ts';
import { learnPinned } from '../../../shared/watch/pins.ts';
import type { BaselinePin, WatchContext, WatchEvent, WatchMemory } from '../../../shared/watch/types.ts';
import { baselineViews, watchScan } from '../../../shared/watch/watch.ts';
import { HOUR, makeWorld } from '../../support/world/chamber.ts';
import { type Streamed, streamOf } from '../../support/world/stream.ts';
import { calibrationOf, contextOf, START_MS } from '../../support/world.ts';

/** Water doubles for good after four hours. */
const world = makeWorld(52, { kind: 'baked', periodSeconds: 300, hasGauge: true, unit: 'A' });
const stream = streamOf(world, {
  days: 14 / 24,
  quietTimetable: true,
  mishaps: false,
  fault: { kind: 'water', size: 1, fromSeconds: 4 * HOUR },
});
const VALID_FROM = START_MS + 9 * HOUR * 1000;

function pinOf(state = 'base', id = 'pin-1'): BaselinePin {
  const inputs = stream.filter(({ seconds }) => seconds > 5 * HOUR && seconds < 8 * HOUR).map(({ input }) => input);
  const outcome = learnPinned({ state: 'base', calibration: calibrationOf(world), inputs, alertsInPeriod: [] });
  if (outcome.kind !== 'learned') throw new Error(outcome.reason);
  return { id, state, validFromMs: VALID_FROM, baseline: outcome.baseline };
}

function watch(scans: readonly Streamed[], changed: Partial<WatchContext>) {
  let memory: WatchMemory | null = null;
  const said: string[] = [];
  const notes: string[] = [];
  for (const { input, seconds } of scans) {
    const step = watchScan(memory, { ...contextOf(world), ...changed }, input);
    memory = JSON.parse(JSON.stringify(step.memory)) as WatchMemory;
    said.push(
      ...step.events.map((event: WatchEvent) => `${event.kind} ${event.signature} ${Math.floor(seconds / HOUR)}`),
    );
    notes.push(...step.notes.map(({ code }) => code));
  }
  return { memory: memory!, said, notes };
}

describe('a pinned baseline', () => {
  test('takes the place of the learned one: what had become usual returns and stays quiet', () => {
    const without = watch(stream, {});
    expect(without.said).toContain('raised water 4');
    expect(without.said.some((line) => line.startsWith('returned'))).toBe(false);
    const { said, notes, memory } = watch(stream, { pins: [pinOf()] });
    expect(said.filter((line) => !line.startsWith('updated'))).toEqual(['raised water 4', 'returned water 9']);
    expect(notes.filter((code) => code === 'baseline-pinned')).toHaveLength(1);
    expect(baselineViews(memory)).toMatchObject([{ state: 'base', pinId: 'pin-1', pinnedAtMs: VALID_FROM }]);
  });

  test('before it is valid nothing changes', () => {
    const early = stream.filter(({ seconds }) => seconds < 9 * HOUR);
    expect(watch(early, { pins: [pinOf()] }).said).toEqual(watch(early, {}).said);
  });

  test('of another mass list is refused once, with a note', () => {
    const pin = structuredClone(pinOf()) as unknown as { baseline: { baseline: { masses: number[] } } };
    const { baseline } = pin.baseline;
    baseline.masses = baseline.masses.map((mass) => mass + 200);
    const { notes, said } = watch(stream, { pins: [pin as unknown as BaselinePin] });
    expect(notes.filter((code) => code.startsWith('pin') || code.startsWith('baseline'))).toEqual(['pin-refused']);
    expect(said).toEqual(watch(stream, {}).said);
  });

  test('of another state leaves this one alone', () => {
    const { said, memory } = watch(stream, { pins: [pinOf('gas-on')] });
    expect(said).toEqual(watch(stream, {}).said);
    expect(baselineViews(memory).map(({ state, pinId }) => [state, pinId])).toEqual([
      ['base', undefined],
      ['gas-on', 'pin-1'],
    ]);
  });

  test('learned with another calibration is carried over by the known factor, and refused where none is known', () => {
    const scans = stream.filter(({ seconds }) => seconds < 2 * HOUR);
    const { input } = scans.at(-1)!;
    const pin = structuredClone(pinOf()) as unknown as {
      validFromMs: number;
      baseline: { calibration: string; scale: object; baseline: { mean: number[] } };
    };
    pin.validFromMs = 0;
    pin.baseline.calibration = 'an earlier one';
    const content = pin.baseline;
    const adopt = (scale: object) => {
      const memory = draftOf(watch(scans, {}).memory)!;
      const notes: { code: string; text: string }[] = [];
      content.scale = scale;
      const context = { ...contextOf(world), pins: [pin as unknown as BaselinePin] };
      adoptPins({ memory, context, input, notes });
      return { memory, codes: notes.map(({ code }) => code) };
    };
    const scale = content.scale as { kind: string; sensitivity: number };
    // The sensitivity was on record as half of what it is now: every height was twice as large.
    const carried = adopt({ ...scale, sensitivity: scale.sensitivity / 2 });
    expect(carried.codes).toEqual(['baseline-pinned']);
    expect(carried.memory.states.pins).toEqual(['pin-1']);
    const { mean, masses } = carried.memory.baselines.base!;
    const m = masses.indexOf(18) + 1;
    expect(mean[m]! / content.baseline.mean[m]!).toBeCloseTo(0.5, 9);
    expect(adopt({ ...scale, kind: 'shares' }).codes).toEqual(['pin-refused']);
  });
});
