/** Gauge against analyser over days, on simulated chambers: which of the two has moved is known by construction. */
import { describe, expect, test } from 'vitest';
import { emptyInstrumentBook } from '../../../shared/watch/instrumentMemory.ts';
import { followKappa } from '../../../shared/watch/kappaStep.ts';
import { DAY, HOUR, makeWorld, type WorldOptions } from '../../support/world/chamber.ts';
import type { Fault } from '../../support/world/faults.ts';
import { draft, frameOf, watched } from '../../support/world/frames.ts';
import { streamOf, watchStream } from '../../support/world/stream.ts';
import type { RunOptions } from '../../support/world.ts';

const STEP_AT = 1 * DAY;
const run = (seed: number, more: Partial<RunOptions>, world: WorldOptions = {}) => {
  const chamber = makeWorld(seed, { kind: 'baked', periodSeconds: 900, hasGauge: true, ...world });
  return watchStream(chamber, streamOf(chamber, { quietTimetable: true, mishaps: false, days: 1.5, ...more }));
};
const gauge = (size: number): Fault => ({ kind: 'gauge', size, fromSeconds: STEP_AT });

function raised({ events }: ReturnType<typeof run>) {
  return events.flatMap(({ event, seconds }) => (event.kind === 'raised' ? [{ event, seconds }] : []));
}

describe('a step of κ that stays', () => {
  test('the gauge jumps by 30 %, the spectrum does not: the gauge is named', () => {
    for (const seed of [361, 362]) {
      const told = raised(run(seed, { fault: gauge(1.3) }));
      expect(
        told.map(({ event }) => event.signature),
        `seed ${seed}`,
      ).toEqual(['sensitivity-drift']);
      expect(told[0]!.event.finding.summary).toMatch(/^The gauge alone has moved: it reads 1\.[23] times as much/);
      expect(told[0]!.event.priority).toBe('low');
    }
  });

  test('all gases lose 22 % together, the gauge does not: the analyser is named', () => {
    for (const seed of [364, 365]) {
      const told = raised(run(seed, { gainStep: { at: STEP_AT, by: -0.25 } }));
      expect(
        told.map(({ event }) => event.signature),
        `seed ${seed}`,
      ).toEqual(['sensitivity-drift']);
      expect(told[0]!.event.finding.summary).toMatch(/^The sensitivity of the analyser has changed/);
    }
  });

  test('returns when gauge and analyser agree as before', () => {
    const fault: Fault = { ...gauge(1.3), untilSeconds: STEP_AT + 10 * HOUR };
    const { said } = run(366, { fault, days: 2.2 });
    expect(said).toEqual(['raised sensitivity-drift', 'returned sensitivity-drift']);
  });
});

test('a gain that falls by 30 % within a week is told before the week is over', () => {
  for (const seed of [367]) {
    const fault: Fault = { kind: 'gain', size: 0.7, fromSeconds: 2 * DAY, rampSeconds: 7 * DAY };
    const told = raised(run(seed, { fault, days: 9 }, { periodSeconds: 1800 }));
    expect(
      told.map(({ event }) => event.signature),
      `seed ${seed}`,
    ).toEqual(['sensitivity-drift']);
    expect(told[0]!.seconds).toBeLessThan(9 * DAY);
  }
});

describe('no alert', () => {
  test.each([
    ['κ far from 1 that stands still', { fault: { ...gauge(1.9), fromSeconds: 0 } }],
    ['eight per cent', { gainStep: { at: STEP_AT, by: -0.08 } }],
    ['twelve per cent of the gauge', { fault: gauge(1.12) }],
  ])('%s', (_what, options) => {
    for (const seed of [369, 370]) expect(run(seed, options).said, `seed ${seed}`).toEqual([]);
  });

  test('twice the water: another mixture moves κ by the error of its sensitivity', () => {
    for (const seed of [371, 372]) {
      const told = raised(run(seed, { fault: { kind: 'water', size: 1, fromSeconds: STEP_AT } }, { kind: 'unbaked' }));
      expect(told.map(({ event }) => event.signature)).not.toContain('sensitivity-drift');
    }
  });
});

describe('in its room', () => {
  const chamber = watched(373);

  test('nothing without a gauge, in another state, in a tail, or under what stands', () => {
    const memory = draft(chamber);
    const frame = frameOf(chamber, {}, { memory, times: 1 });
    const weight = () => memory.instrument.kappa.now.weight;
    memory.instrument = emptyInstrumentBook();
    followKappa({ ...frame, state: 'gas-on' });
    followKappa({ ...frame, input: { ...frame.input, analysis: { ...frame.input.analysis, kappa: null } } });
    followKappa({ ...frame, input: { ...frame.input, scan: { ...frame.input.scan, totalPressurePa: null } } });
    expect(weight()).toBe(0);
    followKappa(frame);
    expect(weight()).toBeGreaterThan(0);
  });
});
