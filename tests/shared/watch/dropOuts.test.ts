/** What the analysis left out of a scan: single masses at the floor, and peaks that were cut off. */
import { describe, expect, test } from 'vitest';
import { toChannels } from '../../../shared/watch/channels.ts';
import { followDropOuts } from '../../../shared/watch/dropOuts.ts';
import { emptyMemory } from '../../../shared/watch/memory.ts';
import { DAY, HOUR, makeWorld } from '../../support/world/chamber.ts';
import { watched } from '../../support/world/frames.ts';
import { streamOf, watchStream } from '../../support/world/stream.ts';

const MINUTE = 60;
const chamber = watched(351);
const calm = { quietTimetable: true, mishaps: false, days: (4 * HOUR) / DAY } as const;
const every = (scans: number, mass: number) => (t: number) =>
  Math.round(t / MINUTE) % scans === 7 && t > 30 * MINUTE ? mass : null;

describe('drop-outs', () => {
  test('five in two hundred scans are told once, with their masses; no gas falls or rises with them', () => {
    for (const seed of [352, 353]) {
      const world = makeWorld(seed, { kind: 'baked', periodSeconds: MINUTE });
      const dropOutAt = every(20, 18);
      const stream = streamOf(
        world,
        { ...calm, dropOutAt },
        {
          measurementAt: (t) => ({ leftOut: dropOutAt(t) === null ? [] : [{ mass: 18, why: 'drop-out' }] }),
        },
      );
      const { said, events } = watchStream(world, stream);
      expect(said, `seed ${seed}`).toEqual(['raised noise']);
      const { event } = events[0]!;
      if (event.kind === 'returned') throw new Error('raised events carry a finding');
      expect(event.finding.summary).toMatch(/mass 18/);
      expect(event.finding.evidence[0]!.value).toBe(5);
    }
  });

  test('now and then one is nothing, also where the analysis has not seen it', () => {
    const world = makeWorld(354, { kind: 'baked', periodSeconds: MINUTE });
    expect(watchStream(world, streamOf(world, { ...calm, dropOutAt: every(80, 28) })).said).toEqual([]);
  });

  test('a leak among drop-outs is still found', () => {
    const world = makeWorld(355, { kind: 'baked', periodSeconds: MINUTE });
    const dropOutAt = every(20, 40);
    const fault = { kind: 'air', size: 30, fromSeconds: 3 * HOUR, oxygen: 0.6 } as const;
    const stream = streamOf(
      world,
      { ...calm, dropOutAt, fault },
      {
        measurementAt: (t) => ({ leftOut: dropOutAt(t) === null ? [] : [{ mass: 40, why: 'drop-out' }] }),
      },
    );
    expect(watchStream(world, stream).said).toEqual(['raised noise', 'raised air-leak']);
  });

  test('the alert returns when they have become rare', () => {
    const memory = emptyMemory('1', 'base', 0);
    const measurement = chamber.last.analysis.measurement!;
    const said: string[] = [];
    for (let scan = 0; scan < 400; scan++) {
      memory.scans = scan;
      const leftOut = scan % 10 === 0 && scan < 100 ? [{ mass: 44, why: 'drop-out' as const }] : [];
      const input = {
        ...chamber.last,
        analysis: { ...chamber.last.analysis, measurement: { ...measurement, leftOut } },
      };
      said.push(...followDropOuts(memory, input).map(({ kind }) => `${kind} ${scan}`));
    }
    expect(said).toEqual(['raised 40', 'returned 280']);
  });

  test('a mass that was left out is a mass that was not measured', () => {
    const q = toChannels(chamber.last.peaks, null, [18, 28], [{ mass: 18 }, { mass: 99 }]);
    expect(q[1]).toBeNaN();
    expect(Number.isFinite(q[2])).toBe(true);
  });
});

describe('peaks that are cut off', () => {
  const at = HOUR;
  const world = makeWorld(356, { kind: 'baked', periodSeconds: MINUTE });
  const cutOff = (t: number) => ({
    leftOut: t >= at && t < 2 * HOUR ? [{ mass: 18, why: 'cut off' as const }] : [],
  });

  test('three scans in a row: told, with the mass; it returns five scans after the last', () => {
    const { said, events } = watchStream(world, streamOf(world, calm, { measurementAt: cutOff }));
    expect(said).toEqual(['raised detector-saturated', 'returned detector-saturated']);
    expect(events.map(({ seconds }) => (seconds - at) / MINUTE)).toEqual([2, 64]);
    const { event } = events[0]!;
    if (event.kind === 'returned') throw new Error('raised events carry a finding');
    expect(event.finding.summary).toMatch(/the peak at mass 18 is cut off/);
  });

  test('the rest of the spectrum is still watched', () => {
    const fault = { kind: 'air', size: 30, fromSeconds: at + 20 * MINUTE, oxygen: 0.6 } as const;
    const { said } = watchStream(world, streamOf(world, { ...calm, fault }, { measurementAt: cutOff }));
    expect(said.slice(0, 2)).toEqual(['raised detector-saturated', 'raised air-leak']);
  });

  test('two scans are not yet several', () => {
    const brief = (t: number) => (t < at + 2 * MINUTE ? cutOff(t) : { leftOut: [] });
    expect(watchStream(world, streamOf(world, calm, { measurementAt: brief })).said).toEqual([]);
  });
});
