/**
 * States and moves of ISA-18.2 / IEC 62682, clause on the alarm state transition diagram (states from public
 * descriptions of the standard; "unacknowledged", "acknowledged", "returned to normal unacknowledged", "normal",
 * "shelved" are its words).
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type AlertLife,
  type AlertMoveRequest,
  LONGEST_SHELVING_MS,
  moveAlert,
  raiseAlert,
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
    ['longer than seven days', shelve(T0, T0 + LONGEST_SHELVING_MS + 1), 'seven days'],
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

describe('whatever people and conditions do', () => {
  const moves = fc.array(
    fc.record({
      kind: fc.constantFrom('re-raise', 'return', 'acknowledge', 'shelve', 'unshelve', 'close' as const),
      step: fc.integer({ min: 1, max: 3 * LONGEST_SHELVING_MS }),
      by: fc.constantFrom('Ada', 'Bo', null),
    }),
    { maxLength: 40 },
  );

  test('an alert never leaves the states of the standard, and its facts agree with its state', () => {
    fc.assert(
      fc.property(moves, (plan) => {
        let life = raiseAlert(T0);
        let atMs = T0;
        for (const { kind, step, by } of plan) {
          atMs += step;
          const by_ = by ?? 'Cy';
          const request: AlertMoveRequest =
            kind === 'acknowledge'
              ? { kind, atMs, by: by_, note: '' }
              : kind === 'shelve'
                ? { kind, atMs, by: by_, untilMs: atMs + step, reason: 'r' }
                : kind === 'unshelve'
                  ? { kind, atMs, by }
                  : kind === 'close'
                    ? { kind, atMs, by: by_, cause: 'c', note: '' }
                    : { kind: kind as 're-raise' | 'return', atMs };
          const result = moveAlert(life, request);
          if (!result.ok) {
            expect(result.reason.length).toBeGreaterThan(5);
            continue;
          }
          expect(result.from).toBe(life.state);
          expect(life.state, 'nothing leaves normal').not.toBe('normal');
          const before = life;
          life = result.alert;
          expect(life.state).toBe(result.to);
          if (life.state === 'unacknowledged') expect(life).toMatchObject({ active: true, acknowledged: null });
          if (life.state === 'acknowledged') expect(life.active && life.acknowledged !== null).toBe(true);
          if (life.state === 'returned-unacknowledged') expect(life.active || life.acknowledged !== null).toBe(false);
          expect(life.shelved !== null).toBe(life.state === 'shelved');
          if (life.state === 'normal') {
            // Over only with a person's word: acknowledged or closed.
            expect(life.closed !== null || life.acknowledged !== null).toBe(true);
            expect(life.active).toBe(false);
          }
          if (kind === 'acknowledge') expect(before.active).toBe(life.active);
        }
      }),
      { numRuns: 500 },
    );
  });
});
