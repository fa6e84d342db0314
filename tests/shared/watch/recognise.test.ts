import { describe, expect, test } from 'vitest';
import { recogniseState } from '../../../shared/watch/recognise.ts';
import type { WatchEvent, WatchInput } from '../../../shared/watch/types.ts';
import { DAY, HOUR, type Kind, makeWorld } from '../../support/world/chamber.ts';
import type { Fault } from '../../support/world/faults.ts';
import { draft, watched } from '../../support/world/frames.ts';
import { runWorld } from '../../support/world/run.ts';
import type { Span } from '../../support/world/timetable.ts';

const MINUTE = 60;
const untold = (state: string, from: number, minutes: number): Span => ({
  from,
  to: from + minutes * MINUTE,
  state,
  undeclared: true,
});

function run(kind: Kind, hours: number, spans: readonly Span[], fault?: Fault) {
  const world = makeWorld(61, { kind, periodSeconds: MINUTE, hasGauge: true });
  const states: [number, string][] = [];
  const notes: string[] = [];
  const { events } = runWorld(
    world,
    { days: (hours * HOUR) / DAY, spans, mishaps: false, ...(fault && { fault }) },
    {
      eachStep: (step, seconds) => {
        if (states.at(-1)?.[1] !== step.state) states.push([Math.round(seconds / MINUTE), step.state]);
        notes.push(...step.notes.map(({ code }) => code));
      },
    },
  );
  const raised = events.filter(({ event }) => event.kind === 'raised');
  return { states, notes, raised: raised.map(({ event, seconds }) => said(event, seconds)) };
}
const said = (event: WatchEvent, seconds: number) => `${event.signature} ${Math.round(seconds / MINUTE)}`;

describe('a state that nobody sent', () => {
  test('a gas of the list that steps to hundreds of times the usual is gas-on, from its first to its last scan', () => {
    const spans = [untold('gas-on', 2 * HOUR, 60), untold('gas-on', 5 * HOUR, 40)];
    const { states, notes, raised } = run('process', 7, spans);
    expect(raised).toEqual([]);
    expect(states).toEqual([
      [0, 'base'],
      [120, 'gas-on'],
      [180, 'base'],
      [300, 'gas-on'],
      [340, 'base'],
    ]);
    expect(notes.filter((code) => code === 'state-recognised')).toHaveLength(2);
  });

  test('air that comes and stays has no such shape: it is called', () => {
    const { states, raised, notes } = run('unbaked', 3, [], { kind: 'air', size: 3000, fromSeconds: 2 * HOUR });
    expect(raised[0]).toMatch(/^air-leak 12[0-4]/);
    expect(states).toEqual([[0, 'base']]);
    expect(notes).not.toContain('state-recognised');
  });

  test('nitrogen that comes and stays is called, for it is no habit here', () => {
    const { raised, states } = run('unbaked', 3, [], { kind: 'line-N2', size: 3000, fromSeconds: 2 * HOUR });
    expect(raised[0]).toMatch(/^gas-inleak 12[0-4]/);
    expect(states).toEqual([[0, 'base']]);
  });

  test('a transfer is known once it has come and gone twice', () => {
    const spans = [2, 4, 6].map((hour) => untold('transfer', hour * HOUR, 15));
    const { states, notes } = run('unbaked', 8, spans);
    expect(states).toEqual([
      [0, 'base'],
      [360, 'transfer'],
      [375, 'base'],
    ]);
    expect(notes.filter((code) => code === 'state-recognised')).toHaveLength(1);
  });
});

describe('a bake that nobody sent', () => {
  const chamber = watched(62, { sendsTemperature: true });
  const at = (kelvin: number, sent = 'base'): WatchInput => {
    const { scan } = chamber.last;
    return {
      ...chamber.last,
      scan: { ...scan, state: sent, temperatureC: draft(chamber).baselines.base!.temperatureC! + kelvin },
    };
  };
  const stateAt = (kelvin: number, before: string, sent?: string) => {
    const memory = draft(chamber);
    memory.state = before;
    const notes: { code: string; text: string }[] = [];
    const state = recogniseState({ memory, context: chamber.context, input: at(kelvin, sent), notes });
    return [state, notes.length];
  };

  test('is told by the temperature when it begins, and is followed by cooling down', () => {
    expect(stateAt(3, 'base')).toEqual(['base', 0]);
    expect(stateAt(80, 'base')).toEqual(['bake', 1]);
    expect(stateAt(80, 'bake')).toEqual(['bake', 0]);
    expect(stateAt(15, 'bake')).toEqual(['cool-down', 0]);
    expect(stateAt(4, 'cool-down')).toEqual(['base', 0]);
  });

  test('what is sent is believed', () => {
    expect(stateAt(80, 'base', 'plasma')).toEqual(['plasma', 0]);
  });
});
