import { describe, expect, test } from 'vitest';
import type { StandingAlert } from '../../shared/db/alerts.ts';
import { moveAlert } from '../../shared/watch/lifecycle.ts';
import type { WatchEvent } from '../../shared/watch/types.ts';
import { AS_BUILT, type Practice } from '../../workers/practice.ts';
import { applyEvents, type ChamberEvent, endByClock } from '../../workers/standing.ts';
import { aFinding, raised, returned } from '../support/scriptedScience.ts';

const by = (analyser: string, ...events: ChamberEvent[]) => events.map((event) => ({ analyser, event }));

/** The alerts that stand after these events, from nothing. */
const standingAfter = (...events: { analyser: string; event: ChamberEvent }[]) => applyEvents('c1', [], events);
const only = (alerts: readonly StandingAlert[]): StandingAlert => {
  expect(alerts).toHaveLength(1);
  return alerts[0] as StandingAlert;
};
const person = (alert: StandingAlert, move: Parameters<typeof moveAlert>[1]): StandingAlert => {
  const result = moveAlert(alert.life, move);
  if (!result.ok) throw new Error(result.reason);
  return { ...alert, life: result.alert };
};
const acknowledged = (alert: StandingAlert) =>
  person(alert, { kind: 'acknowledge', atMs: 150, by: 'ann', note: 'seen' });

describe('one analyser', () => {
  test('a raised condition opens an alert, and its audit begins', () => {
    const { alerts, moves } = standingAfter(...by('a', raised(100, 'water', { gases: ['H2O'], priority: 'low' })));
    const alert = only(alerts);
    expect(alert).toMatchObject({ analyser: 'a', signature: 'water', gases: ['H2O'], priority: 'low', heldBy: ['a'] });
    expect(alert.life).toMatchObject({ state: 'unacknowledged', active: true, raisedAtMs: 100 });
    expect(moves).toMatchObject([{ alert: alert.id, move: 'raise', from: null, to: 'unacknowledged', by: null }]);
  });

  test('the same history makes the same alert, another time another', () => {
    const at = (ms: number) => only(standingAfter(...by('a', raised(ms, 'water'))).alerts).id;
    expect(at(100)).toBe(at(100));
    expect(at(100)).not.toBe(at(101));
  });

  test('a return before anybody looked leaves it to be acknowledged', () => {
    const { alerts } = standingAfter(...by('a', raised(100, 'water'), returned(200, 'water')));
    expect(only(alerts)).toMatchObject({ heldBy: [], life: { state: 'returned-unacknowledged', returnedAtMs: 200 } });
  });

  test('a return after acknowledgement ends it, and a new raise is a new alert', () => {
    const open = acknowledged(only(standingAfter(...by('a', raised(100, 'water'))).alerts));
    const { alerts } = applyEvents('c1', [open], by('a', returned(200, 'water'), raised(300, 'water')));
    expect(alerts.map(({ life }) => life.state)).toEqual(['normal', 'unacknowledged']);
    expect(new Set(alerts.map(({ id }) => id)).size).toBe(2);
  });

  test('a condition that comes back before anybody looked re-raises the same alert', () => {
    const first = standingAfter(...by('a', raised(100, 'water'), returned(200, 'water')));
    const second = applyEvents('c1', first.alerts, by('a', raised(300, 'water', { finding: aFinding('wetter') })));
    expect(only(second.alerts)).toMatchObject({
      id: only(first.alerts).id,
      heldBy: ['a'],
      finding: { summary: 'wetter' },
      life: { state: 'unacknowledged', active: true, raisedAtMs: 100, returnedAtMs: null },
    });
    expect(second.moves.map(({ move }) => move)).toEqual(['re-raise']);
  });

  test('an update replaces the finding, gathers gases, and audits a change of priority', () => {
    const update = {
      ...raised(300, 'gas-inleak', { gases: ['Ar'], priority: 'high', finding: aFinding('two') }),
      kind: 'updated',
    } as WatchEvent;
    const { alerts, moves } = standingAfter(...by('a', raised(100, 'gas-inleak'), update));
    expect(only(alerts)).toMatchObject({ gases: ['N2', 'Ar'], priority: 'high', finding: { summary: 'two' } });
    expect(moves.at(-1)).toMatchObject({ move: 'priority', note: 'medium to high', from: 'unacknowledged' });
  });

  test('what a person has closed meanwhile hears nothing more of the old condition', () => {
    const update = { ...raised(300, 'water'), kind: 'updated' } as WatchEvent;
    expect(applyEvents('c1', [], by('a', update, returned(400, 'water')))).toEqual({ alerts: [], moves: [] });
  });

  test('a shelved alert follows its condition underneath', () => {
    const open = only(standingAfter(...by('a', raised(100, 'water'))).alerts);
    const away = person(open, { kind: 'shelve', atMs: 150, by: 'ann', untilMs: 1_000, reason: 'bake' });
    const gone = only(applyEvents('c1', [away], by('a', returned(200, 'water'))).alerts);
    expect(gone.life).toMatchObject({ state: 'shelved', active: false });
    const back = only(applyEvents('c1', [gone], by('a', raised(300, 'water'))).alerts);
    expect(back.life).toMatchObject({ state: 'shelved', active: true });
  });
});

describe('two analysers of one chamber', () => {
  const both = standingAfter(
    ...by('a', raised(100, 'gas-inleak', { gases: ['N2'] })),
    ...by('b', raised(110, 'gas-inleak', { gases: ['SF6'], priority: 'high', finding: aFinding('b speaks') })),
  );

  test('share one alert, its gases, and the higher priority; the first goes on speaking', () => {
    expect(only(both.alerts)).toMatchObject({
      analyser: 'a',
      heldBy: ['a', 'b'],
      gases: ['N2', 'SF6'],
      priority: 'high',
      finding: { summary: 'gas-inleak stands' },
    });
    expect(both.moves.filter(({ move }) => move === 'raise')).toHaveLength(1);
  });

  test('the alert returns only when the last lets go', () => {
    const one = applyEvents('c1', both.alerts, by('a', returned(200, 'gas-inleak')));
    expect(only(one.alerts)).toMatchObject({ heldBy: ['b'], life: { active: true, state: 'unacknowledged' } });
    const none = applyEvents('c1', one.alerts, by('b', returned(210, 'gas-inleak')));
    expect(only(none.alerts)).toMatchObject({ heldBy: [], life: { active: false, returnedAtMs: 210 } });
  });

  test('when the speaker has let go, the other one speaks', () => {
    const one = applyEvents('c1', both.alerts, by('a', returned(200, 'gas-inleak')));
    const update = { ...raised(210, 'gas-inleak', { finding: aFinding('still') }), kind: 'updated' } as WatchEvent;
    const spoken = applyEvents('c1', one.alerts, by('b', update));
    expect(only(spoken.alerts)).toMatchObject({ analyser: 'b', finding: { summary: 'still' } });
  });
});

describe('the end of shelving', () => {
  const open = only(standingAfter(...by('a', raised(100, 'water'))).alerts);
  const away = person(open, { kind: 'shelve', atMs: 150, by: 'ann', untilMs: 1_000, reason: 'bake' });

  test('comes when its time is up, as of that instant', () => {
    expect(endByClock('c1', [away], new Date(999)).alerts).toEqual([]);
    const { alerts, moves } = endByClock('c1', [away], new Date(5_000));
    expect(only(alerts).life).toMatchObject({ state: 'unacknowledged', shelved: null });
    expect(moves).toMatchObject([{ move: 'unshelve', by: null, at: new Date(1_000), from: 'shelved' }]);
  });

  test('ends an alert that had been acknowledged and whose condition is gone', () => {
    const seen = person(acknowledged(open), { kind: 'shelve', atMs: 160, by: 'ann', untilMs: 1_000, reason: 'bake' });
    const gone = applyEvents('c1', [seen], by('a', returned(200, 'water')));
    expect(only(endByClock('c1', gone.alerts, new Date(2_000)).alerts).life.state).toBe('normal');
  });
});

const state = (atMs: number, word: string): ChamberEvent => ({ kind: 'state', atMs, state: word });
const practice = (change: Partial<Practice>): Practice => ({ ...AS_BUILT, ...change });
const words = (alerts: readonly StandingAlert[]) => alerts.map(({ signature, life }) => `${signature} ${life.state}`);

describe('operating states', () => {
  test('one that disarms suppresses what stands, as of its scan; one that arms gives it back', () => {
    const vented = standingAfter(...by('a', raised(100, 'air-leak'), state(200, 'vented')));
    expect(only(vented.alerts).life).toMatchObject({
      state: 'suppressed',
      active: true,
      suppressed: { sinceMs: 200, reason: 'not armed in the state vented' },
    });
    expect(vented.moves.at(-1)).toMatchObject({
      move: 'suppress',
      by: null,
      at: new Date(200),
      from: 'unacknowledged',
    });
    const told = practice({ operatingState: { state: 'vented', sinceMs: 200 } });
    const pumping = applyEvents('c1', vented.alerts, by('a', state(300, 'pump-down')), told);
    expect(pumping).toEqual({ alerts: [], moves: [] });
    const back = applyEvents('c1', vented.alerts, by('a', state(400, 'base')), told);
    expect(only(back.alerts).life).toMatchObject({ state: 'unacknowledged', suppressed: null });
    expect(back.moves).toMatchObject([{ move: 'unsuppress', note: 'now base', from: 'suppressed' }]);
  });

  test('what was acknowledged comes back acknowledged', () => {
    const seen = acknowledged(only(standingAfter(...by('a', raised(100, 'air-leak'))).alerts));
    const there = applyEvents('c1', [seen], by('a', state(200, 'bake'), state(300, 'cool-down')));
    expect(only(there.alerts).life).toEqual(seen.life);
  });

  test('nothing about the measurement is suppressed, but silence where no scan is expected', () => {
    const { alerts } = standingAfter(
      ...by('a', raised(100, 'frozen'), raised(100, 'noise'), raised(100, 'sensitivity-drift')),
      ...by('b', raised(100, 'silent')),
      ...by('a', state(200, 'vented')),
    );
    expect(words(alerts)).toEqual([
      'frozen unacknowledged',
      'noise unacknowledged',
      'sensitivity-drift unacknowledged',
      'silent suppressed',
    ]);
    const baking = standingAfter(...by('b', raised(100, 'silent')), ...by('a', state(200, 'bake')));
    expect(words(baking.alerts)).toEqual(['silent unacknowledged']);
  });

  test('a gas step takes nothing from what stood at rest', () => {
    const { alerts } = standingAfter(...by('a', raised(100, 'limit'), raised(100, 'water'), state(200, 'gas-on')));
    expect(words(alerts)).toEqual(['limit unacknowledged', 'water unacknowledged']);
  });

  test('unless people have said so', () => {
    const { water } = AS_BUILT.records;
    const atRest = { ...water, version: 3, record: { ...water.record, armedStates: ['base' as const] } };
    const told = practice({ records: { ...AS_BUILT.records, water: atRest } });
    const { alerts } = applyEvents('c1', [], by('a', raised(100, 'water'), state(200, 'gas-on')), told);
    expect(words(alerts)).toEqual(['water suppressed']);
  });

  test('what an analyser raises that knows no state is suppressed from its first moment, with one line of audit', () => {
    const { alerts, moves } = standingAfter(...by('a', state(100, 'vented')), ...by('b', raised(200, 'air-leak')));
    expect(only(alerts).life).toMatchObject({ state: 'suppressed', stateBefore: 'unacknowledged' });
    expect(moves).toMatchObject([
      { move: 'raise', from: null, to: 'suppressed', note: 'not armed in the state vented' },
    ]);
    const back = applyEvents('c1', alerts, by('a', state(300, 'base')));
    expect(words(back.alerts)).toEqual(['air-leak unacknowledged']);
  });

  test('what has returned waits to be seen, whatever the state; what comes back while vented is suppressed', () => {
    const gone = standingAfter(...by('a', raised(100, 'water'), returned(150, 'water'), state(200, 'vented')));
    expect(words(gone.alerts)).toEqual(['water returned-unacknowledged']);
    const told = practice({ operatingState: { state: 'vented', sinceMs: 200 } });
    const again = applyEvents('c1', gone.alerts, by('b', raised(300, 'water')), told);
    expect(words(again.alerts)).toEqual(['water suppressed']);
  });

  test('an analyser whose scans come late does not bring back a state that is over', () => {
    const told = practice({ operatingState: { state: 'vented', sinceMs: 500 } });
    const vented = only(standingAfter(...by('a', raised(100, 'water'), state(500, 'vented'))).alerts);
    expect(applyEvents('c1', [vented], by('b', state(300, 'base')), told)).toEqual({ alerts: [], moves: [] });
  });
});

describe('breaks of service', () => {
  const pause = { untilMs: 10_000, reason: 'gauge at repair', by: 'eve' };
  const told = practice({ breaks: new Map([['water', pause]]) });

  test('what is raised meanwhile is out of service at once, and comes back when its time is up', () => {
    const { alerts, moves } = applyEvents('c1', [], by('a', raised(100, 'water'), raised(100, 'helium')), told);
    expect(words(alerts)).toEqual(['water out-of-service', 'helium unacknowledged']);
    expect(moves[0]).toMatchObject({ move: 'raise', from: null, to: 'out-of-service', note: 'gauge at repair' });
    expect(endByClock('c1', alerts, new Date(9_999)).alerts).toEqual([]);
    const back = endByClock('c1', alerts, new Date(20_000));
    expect(words(back.alerts)).toEqual(['water unacknowledged']);
    expect(back.moves).toMatchObject([{ move: 'return-to-service', at: new Date(10_000), from: 'out-of-service' }]);
  });

  test('one that is over by the time of the scan counts no more', () => {
    expect(words(applyEvents('c1', [], by('a', raised(10_000, 'water')), told).alerts)).toEqual([
      'water unacknowledged',
    ]);
  });

  test('a history from before a long break is raised under it as well', () => {
    const long = practice({ breaks: new Map([['water', { ...pause, untilMs: 400 * 86_400_000 }]]) });
    expect(words(applyEvents('c1', [], by('a', raised(100, 'water')), long).alerts)).toEqual(['water out-of-service']);
  });
});

describe('the rationalisation in force', () => {
  const built = AS_BUILT.records['air-leak'];
  const written = {
    ...built,
    version: 4,
    record: {
      ...built.record,
      latching: true,
      reAlarmHours: 2,
      responder: 'engineer' as const,
      responseSteps: ['First call the beamline.'],
    },
  };
  const told = practice({ records: { ...AS_BUILT.records, 'air-leak': written } });
  const first = { ...aFinding('air'), firstStep: 'First close V2.' };
  const { alerts } = applyEvents('c1', [], by('a', raised(100, 'air-leak', { finding: first })), told);

  test('gives the alert its version, responder, latching, time of re-alarm and first step', () => {
    expect(only(alerts)).toMatchObject({
      rationalisationVersion: 4,
      responder: 'engineer',
      finding: { summary: 'air', firstStep: 'First call the beamline.' },
      life: { latching: true, reAlarmHours: 2 },
    });
    expect(only(standingAfter(...by('a', raised(100, 'air-leak', { finding: first }))).alerts)).toMatchObject({
      rationalisationVersion: 0,
      responder: 'operator',
      finding: { firstStep: 'First close V2.' },
      life: { latching: false, reAlarmHours: 8 },
    });
  });

  test('a later version is for later alerts: this one keeps what it was raised with', () => {
    const later = practice({
      records: { ...AS_BUILT.records, 'air-leak': { ...written, version: 5, record: built.record } },
    });
    const update = {
      ...raised(200, 'air-leak', { finding: { ...first, summary: 'more air' } }),
      kind: 'updated',
    } as WatchEvent;
    expect(only(applyEvents('c1', alerts, by('a', update), later).alerts)).toMatchObject({
      rationalisationVersion: 4,
      finding: { summary: 'more air', firstStep: 'First call the beamline.' },
      life: { latching: true },
    });
  });

  test('latched: acknowledged and returned, it stays until it is reset', () => {
    const seen = acknowledged(only(alerts));
    const gone = only(applyEvents('c1', [seen], by('a', returned(200, 'air-leak')), told).alerts);
    expect(gone).toMatchObject({ heldBy: [], life: { state: 'acknowledged', active: false, returnedAtMs: 200 } });
    expect(person(gone, { kind: 'reset', atMs: 300, by: 'ann' }).life.state).toBe('normal');
  });

  test('acknowledged and still standing after its hours, it asks again, once', () => {
    const seen = acknowledged(only(alerts));
    const dueMs = 150 + 2 * 3_600_000;
    expect(endByClock('c1', [seen], new Date(dueMs - 1)).alerts).toEqual([]);
    const again = endByClock('c1', [seen], new Date(dueMs + 5));
    expect(only(again.alerts).life).toMatchObject({ state: 'unacknowledged', acknowledged: null });
    expect(again.moves).toMatchObject([{ move: 're-alarm', at: new Date(dueMs + 5), from: 'acknowledged', by: null }]);
    expect(endByClock('c1', again.alerts, new Date(2 * dueMs)).alerts).toEqual([]);
  });
});

test('the same events in any batching, with what stands handed on, give the same alerts and the same audit', () => {
  const story = [
    ...by('a', state(10, 'base'), raised(100, 'air-leak'), raised(110, 'water')),
    ...by('b', raised(120, 'water'), raised(130, 'frozen')),
    ...by('a', returned(140, 'water'), state(150, 'vented')),
    ...by('b', returned(160, 'water'), raised(170, 'helium')),
    ...by('a', state(180, 'pump-down'), state(190, 'base'), raised(200, 'water'), returned(210, 'air-leak')),
    ...by('b', returned(220, 'helium')),
  ];
  /** As a worker does: from what is stored, and the state of the chamber as far as it was written. */
  const inPieces = (sizes: (from: number) => number) => {
    const stored = new Map<string, StandingAlert>();
    const audit: unknown[] = [];
    let operatingState: Practice['operatingState'] = null;
    for (let from = 0; from < story.length; ) {
      const piece = story.slice(from, from + sizes(from));
      const standing = [...stored.values()].filter(({ life }) => life.state !== 'normal');
      const change = applyEvents('c1', standing, piece, practice({ operatingState }));
      for (const alert of change.alerts) stored.set(alert.id, alert);
      audit.push(...change.moves);
      for (const { event } of piece)
        if (event.kind === 'state') operatingState = { state: event.state, sinceMs: event.atMs };
      from += piece.length;
    }
    return { alerts: [...stored.values()].sort((a, b) => (a.id < b.id ? -1 : 1)), audit };
  };
  const whole = inPieces(() => story.length);
  expect(words(whole.alerts).sort()).toEqual([
    'air-leak returned-unacknowledged',
    'frozen unacknowledged',
    'helium returned-unacknowledged',
    'water unacknowledged',
  ]);
  expect(inPieces(() => 1)).toEqual(whole);
  expect(inPieces((from) => 1 + ((from * 7) % 4))).toEqual(whole);
  // The audit of each alert has no gap.
  for (const { id } of whole.alerts) {
    const own = (whole.audit as { alert: string; from: string | null; to: string }[]).filter(
      ({ alert }) => alert === id,
    );
    expect(own.map(({ from }) => from)).toEqual([null, ...own.slice(0, -1).map(({ to }) => to)]);
  }
});
