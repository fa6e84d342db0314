import { describe, expect, test } from 'vitest';
import type { StandingAlert } from '../../shared/db/alerts.ts';
import { moveAlert } from '../../shared/watch/lifecycle.ts';
import type { WatchEvent } from '../../shared/watch/types.ts';
import { applyEvents, endShelving } from '../../workers/standing.ts';
import { aFinding, raised, returned } from '../support/scriptedScience.ts';

const by = (analyser: string, ...events: WatchEvent[]) => events.map((event) => ({ analyser, event }));

/** The alerts that stand after these events, from nothing. */
const standingAfter = (...events: { analyser: string; event: WatchEvent }[]) => applyEvents('c1', [], events);
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
    expect(endShelving('c1', [away], new Date(999)).alerts).toEqual([]);
    const { alerts, moves } = endShelving('c1', [away], new Date(5_000));
    expect(only(alerts).life).toMatchObject({ state: 'unacknowledged', shelved: null });
    expect(moves).toMatchObject([{ move: 'unshelve', by: null, at: new Date(1_000), from: 'shelved' }]);
  });

  test('ends an alert that had been acknowledged and whose condition is gone', () => {
    const seen = person(acknowledged(open), { kind: 'shelve', atMs: 160, by: 'ann', untilMs: 1_000, reason: 'bake' });
    const gone = applyEvents('c1', [seen], by('a', returned(200, 'water')));
    expect(only(endShelving('c1', gone.alerts, new Date(2_000)).alerts).life.state).toBe('normal');
  });
});
