/**
 * States and moves of ISA-18.2 / IEC 62682, clause on the alarm state transition diagram (states from public
 * descriptions of the standard; "unacknowledged", "acknowledged", "returned to normal unacknowledged", "latched",
 * "normal", "shelved", "suppressed by design", "out of service" are its words; latching with a reset, re-alarm time and a
 * longest shelving also stand in OPC 10000-9, Alarms and Conditions). Limits of 24 hours and 90 days: our own choice.
 */
import { describe, expect, test } from 'vitest';
import { LONGEST_BREAK_MS, LONGEST_SHELVING_MS } from '../../../shared/watch/holds.ts';
import {
  type AlertLife,
  type AlertMoveRequest,
  moveAlert,
  raiseAlert,
  reAlarmAtMs,
} from '../../../shared/watch/lifecycle.ts';

const T0 = Date.UTC(2031, 0, 6, 6);
const HOUR = 3_600_000;
const go = (alert: AlertLife, ...moves: AlertMoveRequest[]): AlertLife =>
  moves.reduce((life, move) => {
    const result = moveAlert(life, move);
    if (!result.ok) throw new Error(result.reason);
    return result.alert;
  }, alert);
const why = (alert: AlertLife, move: AlertMoveRequest): string => {
  const result = moveAlert(alert, move);
  return result.ok ? `legal, to ${result.to}` : result.reason;
};
const acknowledge = (atMs: number, by = 'Ada'): AlertMoveRequest => ({ kind: 'acknowledge', atMs, by, note: 'seen' });
const shelve = (atMs: number, untilMs: number, reason = 'wafer run'): AlertMoveRequest => ({
  kind: 'shelve',
  atMs,
  by: 'Ada',
  untilMs,
  reason,
});
const back = (atMs: number): AlertMoveRequest => ({ kind: 'return', atMs });
const again = (atMs: number): AlertMoveRequest => ({ kind: 're-raise', atMs });
const unshelve = (atMs: number, by: string | null = 'Ada'): AlertMoveRequest => ({ kind: 'unshelve', atMs, by });
const reset = (atMs: number): AlertMoveRequest => ({ kind: 'reset', atMs, by: 'Ada' });
const reAlarm = (atMs: number): AlertMoveRequest => ({ kind: 're-alarm', atMs });
const suppress = (atMs: number): AlertMoveRequest => ({ kind: 'suppress', atMs, reason: 'the chamber is vented' });
const unsuppress = (atMs: number): AlertMoveRequest => ({ kind: 'unsuppress', atMs });
const takeOut = (atMs: number, untilMs: number, reason = 'gauge at repair'): AlertMoveRequest => ({
  kind: 'out-of-service',
  atMs,
  by: 'Eve',
  untilMs,
  reason,
});
const takeBack = (atMs: number, by: string | null = 'Eve'): AlertMoveRequest => ({
  kind: 'return-to-service',
  atMs,
  by,
});
const latching = raiseAlert(T0, { latching: true, reAlarmHours: null });
const reAlarming = raiseAlert(T0, { latching: false, reAlarmHours: 8 });
const close = (atMs: number): AlertMoveRequest => ({ kind: 'close', atMs, by: 'Bo', cause: 'seal', note: '' });

describe('legal moves', () => {
  test('acknowledging does not end a condition; its return does', () => {
    const seen = go(raiseAlert(T0), acknowledge(T0 + 1));
    expect(seen).toMatchObject({ state: 'acknowledged', active: true, acknowledged: { by: 'Ada', note: 'seen' } });
    expect(go(seen, back(T0 + 2))).toMatchObject({ state: 'normal', active: false, returnedAtMs: T0 + 2 });
  });

  test('a condition that returns before anyone looked still asks to be looked at', () => {
    const gone = go(raiseAlert(T0), back(T0 + 1));
    expect(gone.state).toBe('returned-unacknowledged');
    expect(go(gone, acknowledge(T0 + 2)).state).toBe('normal');
  });

  test('a condition that comes back is the same alert once more', () => {
    const life = go(raiseAlert(T0), back(T0 + 1), again(T0 + 2));
    expect(life).toMatchObject({ state: 'unacknowledged', active: true, returnedAtMs: null, raisedAtMs: T0 });
  });

  test('what is shelved is followed underneath, and is looked at again if it still stands', () => {
    const shelved = go(raiseAlert(T0), acknowledge(T0 + 1), shelve(T0 + 2, T0 + HOUR));
    expect(shelved).toMatchObject({ state: 'shelved', active: true });
    expect(go(shelved, unshelve(T0 + HOUR, null))).toMatchObject({ state: 'unacknowledged', acknowledged: null });
    const gone = go(shelved, back(T0 + 3));
    expect(gone).toMatchObject({ state: 'shelved', active: false });
    expect(go(gone, unshelve(T0 + 4)).state).toBe('normal');
    expect(go(gone, again(T0 + 4), unshelve(T0 + 5)).state).toBe('unacknowledged');
  });

  test('shelved without having been acknowledged, and gone since: a person still has to see it', () => {
    const life = go(raiseAlert(T0), shelve(T0 + 1, T0 + HOUR), back(T0 + 2), unshelve(T0 + HOUR, null));
    expect(life.state).toBe('returned-unacknowledged');
  });

  test.each([
    ['unacknowledged', raiseAlert(T0)],
    ['acknowledged', go(raiseAlert(T0), acknowledge(T0 + 1))],
    ['returned-unacknowledged', go(raiseAlert(T0), back(T0 + 1))],
    ['shelved', go(raiseAlert(T0), shelve(T0 + 1, T0 + HOUR))],
  ])('closing from %s names the cause and ends it', (_state, life) => {
    expect(go(life, close(T0 + 9))).toMatchObject({
      state: 'normal',
      active: false,
      closed: { by: 'Bo', cause: 'seal' },
    });
  });
});

describe('illegal moves say who was first', () => {
  test('acknowledged twice', () => {
    const seen = go(raiseAlert(T0), acknowledge(T0 + 1000));
    expect(why(seen, acknowledge(T0 + 2000, 'Bo'))).toBe('already acknowledged by Ada at 2031-01-06T06:00:01.000Z');
  });

  test('acknowledged after it was closed', () => {
    expect(why(go(raiseAlert(T0), close(T0)), acknowledge(T0))).toContain('already closed by Bo');
  });

  test('shelved twice, and acknowledged while shelved', () => {
    const shelved = go(raiseAlert(T0), shelve(T0, T0 + HOUR));
    expect(why(shelved, shelve(T0 + 1, T0 + HOUR))).toContain('already shelved until 2031-01-06T07:00:00.000Z');
    expect(why(shelved, acknowledge(T0 + 1))).toContain('unshelve it first');
  });

  test('the clock may not unshelve early, a person may', () => {
    const shelved = go(raiseAlert(T0), shelve(T0, T0 + HOUR));
    expect(why(shelved, unshelve(T0 + 1, null))).toContain('shelved until');
    expect(why(shelved, unshelve(T0 + 1, 'Ada'))).toBe('legal, to unacknowledged');
  });

  test.each([
    ['longer than a day', shelve(T0, T0 + 24 * HOUR + 1), '24 hours'],
    ['into the past', shelve(T0, T0), 'future'],
    ['without a reason', shelve(T0, T0 + HOUR, '  '), 'reason'],
  ])('shelving %s', (_what, move, reason) => {
    expect(why(raiseAlert(T0), move)).toContain(reason);
  });

  test('unshelving what is not shelved, returning what has returned, re-raising what stands, closing without a cause', () => {
    expect(why(raiseAlert(T0), unshelve(T0))).toContain('not shelved');
    expect(why(go(raiseAlert(T0), back(T0)), back(T0 + 1))).toContain('returned');
    expect(why(raiseAlert(T0), again(T0 + 1))).toContain('stood since');
    expect(why(raiseAlert(T0), { kind: 'close', atMs: T0, by: 'Bo', cause: ' ', note: '' })).toContain('cause');
  });
});

describe('latching', () => {
  test('what was acknowledged stays after its condition has returned, until it is reset', () => {
    const seen = go(latching, acknowledge(T0 + 1));
    expect(why(seen, reset(T0 + 2))).toContain('its condition has stood since');
    const gone = go(seen, back(T0 + 3));
    expect(gone).toMatchObject({ state: 'acknowledged', active: false, returnedAtMs: T0 + 3 });
    const over = go(gone, reset(T0 + 4));
    expect(over.state).toBe('normal');
    expect(why(over, reset(T0 + 5))).toContain('over since it was reset');
  });

  test('what nobody has acknowledged is not reset; acknowledging it does not end it', () => {
    const gone = go(latching, back(T0 + 1));
    expect(gone.state).toBe('returned-unacknowledged');
    expect(why(gone, reset(T0 + 2))).toContain('acknowledge it first');
    expect(go(gone, acknowledge(T0 + 3))).toMatchObject({ state: 'acknowledged', active: false });
    expect(go(gone, acknowledge(T0 + 3), reset(T0 + 4)).state).toBe('normal');
  });

  test('a condition that comes back while it is latched asks anew', () => {
    const life = go(latching, acknowledge(T0 + 1), back(T0 + 2), again(T0 + 3));
    expect(life).toMatchObject({ state: 'unacknowledged', active: true, acknowledged: null, returnedAtMs: null });
  });

  test('what does not latch is not reset', () => {
    expect(why(go(raiseAlert(T0), back(T0)), reset(T0))).toContain('does not latch');
  });

  test('shelving gives a latched alert back as it was', () => {
    const life = go(latching, acknowledge(T0 + 1), back(T0 + 2), shelve(T0 + 3, T0 + HOUR), unshelve(T0 + HOUR, null));
    expect(life).toMatchObject({ state: 'acknowledged', active: false });
  });
});

describe('re-alarm', () => {
  test('acknowledged and still standing after its time, it asks again', () => {
    const seen = go(reAlarming, acknowledge(T0));
    expect(reAlarmAtMs(seen)).toBe(T0 + 8 * HOUR);
    expect(why(seen, reAlarm(T0 + 8 * HOUR - 1))).toContain('it asks again at 2031-01-06T14:00:00.000Z');
    expect(go(seen, reAlarm(T0 + 8 * HOUR))).toMatchObject({ state: 'unacknowledged', acknowledged: null });
  });

  test('not what nobody has acknowledged, what is put away, what latches and has returned, or what has no time', () => {
    expect(reAlarmAtMs(reAlarming)).toBeNull();
    expect(reAlarmAtMs(go(raiseAlert(T0), acknowledge(T0)))).toBeNull();
    expect(reAlarmAtMs(go(reAlarming, acknowledge(T0), shelve(T0, T0 + HOUR)))).toBeNull();
    const latched = go(raiseAlert(T0, { latching: true, reAlarmHours: 8 }), acknowledge(T0), back(T0));
    expect(why(latched, reAlarm(T0 + 9 * HOUR))).toContain('nothing that would ask again');
  });
});

describe('suppression by design and breaks of service', () => {
  test('give back the state that was before', () => {
    const seen = go(raiseAlert(T0), acknowledge(T0 + 1));
    for (const life of [raiseAlert(T0), seen]) {
      const suppressed = go(life, suppress(T0 + 2));
      expect(suppressed).toMatchObject({ state: 'suppressed', active: true });
      expect(go(suppressed, unsuppress(T0 + 3))).toEqual(life);
      const out = go(life, takeOut(T0 + 2, T0 + HOUR));
      expect(out).toMatchObject({ state: 'out-of-service', active: true });
      expect(go(out, takeBack(T0 + 3))).toEqual(life);
    }
  });

  test('a condition that returns meanwhile is still to be seen, unless it was', () => {
    expect(go(raiseAlert(T0), suppress(T0), back(T0 + 1), unsuppress(T0 + 2)).state).toBe('returned-unacknowledged');
    expect(go(raiseAlert(T0), acknowledge(T0), suppress(T0), back(T0 + 1), unsuppress(T0 + 2)).state).toBe('normal');
  });

  test('lie over each other; each ends for itself', () => {
    const all = go(raiseAlert(T0), shelve(T0, T0 + HOUR), suppress(T0 + 1), takeOut(T0 + 2, T0 + 2 * HOUR));
    expect(all.state).toBe('out-of-service');
    const back1 = go(all, takeBack(T0 + 3));
    expect(back1.state).toBe('suppressed');
    expect(go(back1, unsuppress(T0 + 4)).state).toBe('shelved');
    expect(go(all, unshelve(T0 + HOUR, null), unsuppress(T0 + HOUR), takeBack(T0 + 2 * HOUR, null)).state).toBe(
      'unacknowledged',
    );
  });

  test('what is put away is neither acknowledged nor shelved nor reset, and the reason says who was first', () => {
    const out = go(raiseAlert(T0), takeOut(T0, T0 + HOUR));
    for (const move of [acknowledge(T0 + 1), shelve(T0 + 1, T0 + 2), takeOut(T0 + 1, T0 + HOUR), reset(T0 + 1)]) {
      expect(why(out, move)).toContain('already taken out of service by Eve until 2031-01-06T07:00:00.000Z');
    }
    const vented = go(raiseAlert(T0), suppress(T0));
    for (const move of [acknowledge(T0 + 1), shelve(T0 + 1, T0 + 2), suppress(T0 + 1)]) {
      expect(why(vented, move)).toContain(
        'suppressed by design since 2031-01-06T06:00:00.000Z (the chamber is vented)',
      );
    }
  });

  test('what has returned only waits to be seen, and is not suppressed', () => {
    expect(why(go(raiseAlert(T0), back(T0)), suppress(T0 + 1))).toContain('returned');
    expect(why(raiseAlert(T0), unsuppress(T0))).toContain('not suppressed');
  });

  test('a break has an end within 90 days and a reason; the clock ends it in time, a person at once', () => {
    expect(why(raiseAlert(T0), takeOut(T0, T0 + LONGEST_BREAK_MS + 1))).toContain('90 days at most');
    expect(why(raiseAlert(T0), takeOut(T0, T0))).toContain('future');
    expect(why(raiseAlert(T0), takeOut(T0, T0 + HOUR, ' '))).toContain('needs a reason');
    expect(why(raiseAlert(T0), takeBack(T0))).toContain('not out of service');
    const out = go(raiseAlert(T0), takeOut(T0, T0 + HOUR));
    expect(why(out, takeBack(T0 + 1, null))).toContain('out of service until');
    expect(why(out, takeBack(T0 + 1))).toBe('legal, to unacknowledged');
    expect([LONGEST_SHELVING_MS, LONGEST_BREAK_MS]).toEqual([24 * HOUR, 90 * 24 * HOUR]);
  });

  test('shelvings are counted', () => {
    const twice = go(raiseAlert(T0), shelve(T0, T0 + 1), unshelve(T0 + 1), shelve(T0 + 2, T0 + 3));
    expect(twice.shelvings).toBe(2);
  });

  test('a row of before the holds were told apart comes back as it did', () => {
    const old = { ...go(raiseAlert(T0), acknowledge(T0), shelve(T0, T0 + HOUR)), stateBefore: null };
    expect(go(old, unshelve(T0 + 1)).state).toBe('unacknowledged');
    expect(go({ ...old, active: false, returnedAtMs: T0 }, unshelve(T0 + 1)).state).toBe('normal');
    const unseen = { ...old, acknowledged: null, active: false, returnedAtMs: T0 };
    expect(go(unseen, unshelve(T0 + 1)).state).toBe('returned-unacknowledged');
  });
});
