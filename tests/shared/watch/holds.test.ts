/**
 * Generated lives against a second description of the same diagram: a table, written from the words of the standard
 * (ISA-18.2 / IEC 62682: states of an alarm and what moves between them) and of OPC 10000-9 (a latched condition stays until
 * reset; shelving, suppression and being out of service lie over the others), not from the code.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { LONGEST_SHELVING_MS, settle, underHolds } from '../../../shared/watch/holds.ts';
import { type AlertLife, type AlertMoveRequest, moveAlert, raiseAlert } from '../../../shared/watch/lifecycle.ts';

const T0 = Date.UTC(2031, 0, 6, 6);
const HOUR = 3_600_000;

/**
 * U unacknowledged, A acknowledged, R returned unacknowledged, N normal; + the condition stands, − it does not.
 * Missing: not allowed. `A-` is latched, or waits under a hold to become N.
 */
const CALLS: Record<string, Record<string, string>> = {
  'U+': { return: 'R-', acknowledge: 'A+' },
  'A+': { return: 'A-', 're-alarm': 'U+' },
  'A-': { 're-raise': 'U+', reset: 'N-' },
  'R-': { 're-raise': 'U+', acknowledge: 'A-' },
};
const WORDS: Record<string, string> = {
  U: 'unacknowledged',
  A: 'acknowledged',
  R: 'returned-unacknowledged',
  N: 'normal',
};
const NEEDS_NO_HOLD = ['acknowledge', 'reset', 're-alarm', 'shelve'];

interface Model {
  call: string;
  latching: boolean;
  reAlarmHours: number | null;
  seenAtMs: number;
  out: number | null;
  suppressed: boolean;
  shelved: number | null;
}

const word = (m: Model): string => {
  if (m.call === 'N-') return 'normal';
  if (m.out !== null) return 'out-of-service';
  if (m.suppressed) return 'suppressed';
  return m.shelved !== null ? 'shelved' : (WORDS[m.call[0] as string] as string);
};
const unheld = (m: Model) => m.out === null && !m.suppressed && m.shelved === null;

/** @returns null where the move is not allowed */
const inModel = (m: Model, move: AlertMoveRequest): Model | null => {
  if (m.call === 'N-' || (NEEDS_NO_HOLD.includes(move.kind) && !unheld(m))) return null;
  const next = { ...m };
  const { kind, atMs } = move;
  if (kind === 'close') next.call = 'N-';
  else if (kind === 'shelve') {
    if (move.untilMs - atMs > 24 * HOUR) return null;
    next.shelved = move.untilMs;
  } else if (kind === 'unshelve') {
    if (m.shelved === null || (move.by === null && atMs < m.shelved)) return null;
    next.shelved = null;
    if (m.call.endsWith('+')) next.call = 'U+';
  } else if (kind === 'suppress') {
    if (m.suppressed || m.call.endsWith('-')) return null;
    next.suppressed = true;
  } else if (kind === 'unsuppress') {
    if (!m.suppressed) return null;
    next.suppressed = false;
  } else if (kind === 'out-of-service') {
    if (m.out !== null || move.untilMs - atMs > 90 * 24 * HOUR) return null;
    next.out = move.untilMs;
  } else if (kind === 'return-to-service') {
    if (m.out === null || (move.by === null && atMs < m.out)) return null;
    next.out = null;
  } else {
    const to = CALLS[m.call]?.[kind];
    if (to === undefined || (kind === 'reset' && !m.latching)) return null;
    if (kind === 're-alarm' && (m.reAlarmHours === null || atMs < m.seenAtMs + m.reAlarmHours * HOUR)) return null;
    next.call = to;
    if (kind === 'acknowledge') next.seenAtMs = atMs;
  }
  if (next.call === 'A-' && !next.latching && unheld(next)) next.call = 'N-';
  return next;
};

const KINDS = [
  're-raise',
  'return',
  're-alarm',
  'acknowledge',
  'reset',
  'shelve',
  'unshelve',
  'suppress',
  'unsuppress',
  'out-of-service',
  'return-to-service',
  'close',
] as const;
// Closing ends the story: seldom, or nothing else would be reached.
const kinds = fc.oneof(
  { weight: 30, arbitrary: fc.constantFrom(...KINDS.slice(0, -1)) },
  { weight: 1, arbitrary: fc.constant('close' as const) },
);
const step = fc.record({
  kind: kinds,
  hours: fc.oneof(fc.integer({ min: 1, max: 30 }), fc.integer({ min: 1, max: 3000 })),
  lasts: fc.oneof(fc.integer({ min: 1, max: 30 }), fc.integer({ min: 1, max: 3000 })),
  by: fc.constantFrom('Ada', 'Bo', null),
});
const lives = fc.record({
  latching: fc.boolean(),
  reAlarmHours: fc.constantFrom(null, 8, 24),
  steps: fc.array(step, { maxLength: 60 }),
});

const requestOf = (plan: typeof step extends fc.Arbitrary<infer S> ? S : never, atMs: number): AlertMoveRequest => {
  const { kind, by } = plan;
  const person = by ?? 'Cy';
  if (kind === 'acknowledge') return { kind, atMs, by: person, note: '' };
  if (kind === 'reset') return { kind, atMs, by: person };
  if (kind === 'close') return { kind, atMs, by: person, cause: 'c', note: '' };
  if (kind === 'shelve' || kind === 'out-of-service')
    return { kind, atMs, by: person, untilMs: atMs + plan.lasts * HOUR, reason: 'r' };
  if (kind === 'unshelve' || kind === 'return-to-service') return { kind, atMs, by };
  if (kind === 'suppress') return { kind, atMs, reason: 'vented' };
  return { kind, atMs };
};

const factsAgree = (life: AlertLife) => {
  const held = life.outOfService ?? life.suppressed ?? life.shelved;
  expect(life.stateBefore !== null).toBe(held !== null && life.state !== 'normal');
  expect(life.active).toBe(life.active && life.returnedAtMs === null);
  if (underHolds(life) === 'acknowledged' && life.state !== 'normal') expect(life.acknowledged).not.toBeNull();
  if (underHolds(life) === 'unacknowledged' && life.state !== 'normal') expect(life.acknowledged).toBeNull();
  if (life.state !== 'normal') return;
  // Over only with a person's word: acknowledged, or closed.
  expect(life.closed !== null || life.acknowledged !== null).toBe(true);
  expect(life.active).toBe(false);
};

describe('whatever people, conditions, states and clocks do', () => {
  test('the alert goes where the table says, and nowhere else', () => {
    const reached = new Set<string>();
    fc.assert(
      fc.property(lives, ({ latching, reAlarmHours, steps }) => {
        let life = raiseAlert(T0, { latching, reAlarmHours });
        let model: Model = {
          call: 'U+',
          latching,
          reAlarmHours,
          seenAtMs: 0,
          out: null,
          suppressed: false,
          shelved: null,
        };
        let last: string = life.state;
        let atMs = T0;
        for (const plan of steps) {
          atMs += plan.hours * HOUR;
          const request = requestOf(plan, atMs);
          const result = moveAlert(life, request);
          const expected = inModel(model, request);
          expect(result.ok, `${request.kind} from ${word(model)} (${model.call})`).toBe(expected !== null);
          if (!result.ok || expected === null) {
            if (!result.ok) expect(result.reason.length).toBeGreaterThan(5);
            continue;
          }
          expect(result.from, 'the audit has no gap').toBe(last);
          expect(result.alert.state).toBe(result.to);
          life = result.alert;
          model = expected;
          last = result.to;
          expect(life.state).toBe(word(model));
          if (request.kind !== 'close')
            expect(life.active, 'no move loses the condition').toBe(model.call.endsWith('+'));
          factsAgree(life);
          reached.add(`${request.kind} to ${life.state}`);
        }
      }),
      { numRuns: 2000, seed: 7 },
    );
    // The generator gets about: every move was made, every state was reached.
    for (const kind of KINDS)
      expect(
        [...reached].some((way) => way.startsWith(`${kind} `)),
        kind,
      ).toBe(true);
    for (const state of ['out-of-service', 'suppressed', 'shelved', 'normal', ...Object.values(WORDS)])
      expect(
        [...reached].some((way) => way.endsWith(` ${state}`)),
        state,
      ).toBe(true);
  });

  test('the same move twice: the second is refused, or the clock has gone on', () => {
    fc.assert(
      fc.property(lives, ({ latching, reAlarmHours, steps }) => {
        let life = raiseAlert(T0, { latching, reAlarmHours });
        let atMs = T0;
        for (const plan of steps) {
          atMs += plan.hours * HOUR;
          const request = requestOf(plan, atMs);
          const result = moveAlert(life, request);
          if (!result.ok) continue;
          life = result.alert;
          expect(moveAlert(life, request).ok, request.kind).toBe(false);
        }
      }),
      { numRuns: 500, seed: 11 },
    );
  });
});

test('an alert without holds is in its calling state; the first hold that is on names the state', () => {
  const life = raiseAlert(T0);
  const shelved = { untilMs: T0 + LONGEST_SHELVING_MS, reason: 'r' };
  const suppressed = { sinceMs: T0, reason: 'vented' };
  expect(settle(life, {})).toMatchObject({ to: 'unacknowledged' });
  expect(settle(life, { shelved })).toMatchObject({ to: 'shelved', alert: { stateBefore: 'unacknowledged' } });
  expect(settle(life, { shelved, suppressed })).toMatchObject({ to: 'suppressed' });
});
