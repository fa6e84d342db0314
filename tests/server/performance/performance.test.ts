import { describe, expect, test } from 'vitest';
import { confusionOf, isRight } from '../../../server/performance/confusion.ts';
import type { AlertFact, CallFact } from '../../../server/performance/facts.ts';
import { performanceOf } from '../../../server/performance/performance.ts';

const HOUR = 3_600_000;
const FROM = Date.UTC(2031, 2, 1);
const at = (hours: number) => new Date(FROM + hours * HOUR);
const alert = (id: string, changed: Partial<AlertFact> = {}): AlertFact => ({
  id,
  chamber: `chamber of ${id}`,
  area: 'north',
  tags: [],
  signature: 'water',
  priority: 'low',
  state: 'unacknowledged',
  active: true,
  raisedAt: at(1),
  returnedAt: null,
  summary: 'Water has risen.',
  sureness: 'likely',
  shelvedUntil: null,
  shelvedReason: null,
  shelvings: 0,
  suppressedSince: null,
  suppressedReason: null,
  outOfServiceUntil: null,
  outOfServiceReason: null,
  outOfServiceBy: null,
  closedAt: null,
  closedCause: null,
  verified: null,
  touched: false,
  ...changed,
});
const raised = (of: AlertFact): CallFact => ({ at: of.raisedAt, alert: of.id, first: true });
const facts = (alerts: AlertFact[], changed: { calls?: CallFact[]; groupOf?: Map<string, string> } = {}) => ({
  asked: { from: at(0), to: at(48), area: null, responder: null },
  now: at(48),
  alerts,
  calls: alerts.map(raised),
  watched: { chambers: 10, since: null },
  groupOf: new Map<string, string>(),
  dayOf: (ms: number) => new Date(ms).toISOString().slice(0, 10),
  ...changed,
});

describe('performance', () => {
  test('a group that began together calls once, and each of its members is still in the lists', () => {
    const three = ['a', 'b', 'c'].map((id) => alert(id));
    const groupOf = new Map(three.map(({ id }) => [id, 'g']));
    const answer = performanceOf(facts(three, { groupOf }));
    expect(answer.annunciations).toBe(1);
    expect(answer.stale.map((one) => one.alert.id)).toEqual(['a', 'b', 'c']);
  });

  test('lists say who put an alert away, until when and why', () => {
    const answer = performanceOf(
      facts([
        alert('s', { state: 'shelved', shelvedUntil: at(50), shelvedReason: 'seal ordered', shelvings: 3 }),
        alert('d', { state: 'suppressed', suppressedSince: at(40), suppressedReason: 'vented' }),
        alert('o', {
          state: 'out-of-service',
          outOfServiceUntil: at(900),
          outOfServiceReason: 'gauge away',
          outOfServiceBy: 'Ida',
        }),
      ]),
    );
    expect(answer.shelved[0]).toMatchObject({ until: at(50).toISOString(), reason: 'seal ordered', times: 3 });
    expect(answer.suppressed[0]).toMatchObject({ since: at(40).toISOString(), reason: 'vented' });
    expect(answer.outOfService[0]).toMatchObject({ by: 'Ida', reason: 'gauge away' });
  });

  test('what came back by itself within minutes is fleeting; what a person has touched is not', () => {
    const short = { active: false, returnedAt: new Date(at(1).getTime() + 60_000), state: 'normal' as const };
    const answer = performanceOf(facts([alert('f', short), alert('t', { ...short, touched: true })]));
    expect(answer.fleeting.map((one) => one.alert.id)).toEqual(['f']);
  });

  test('shares of priorities are of calls, and null without one', () => {
    const answer = performanceOf(facts([alert('a'), alert('b', { priority: 'high' })]));
    expect(answer.priorities.map(({ share }) => share)).toEqual([0.5, 0, 0.5]);
    expect(performanceOf(facts([])).priorities.map(({ share }) => share)).toEqual([null, null, null]);
  });

  test('closed with a cause: an action, planned work, or a false alert', () => {
    const closed = (id: string, verified: string | null) =>
      alert(id, { state: 'normal', active: false, closedAt: at(3), verified });
    const answer = performanceOf(
      facts([closed('a', 'water'), closed('b', 'planned-work'), closed('c', 'false-alert'), closed('d', null)]),
    );
    expect(answer.closed).toEqual({ total: 4, acted: 2, planned: 1, falseAlerts: 1 });
  });
});

test('days before the first scan make no average better', () => {
  const whole = performanceOf(facts([alert('a', { raisedAt: at(40) })]));
  const young = performanceOf({
    ...facts([alert('a', { raisedAt: at(40) })]),
    watched: { chambers: 10, since: at(36) },
  });
  const perDay = (of: typeof whole) => of.measures.find(({ id }) => id === 'per-day')?.value;
  expect([whole.days, perDay(whole)]).toEqual([2, 0.5]);
  expect([young.days, perDay(young)]).toEqual([0.5, 2]);
});

describe('confusion', () => {
  const closed = (id: string, signature: AlertFact['signature'], verified: string | null, sureness = 'likely') =>
    alert(id, { signature, verified, sureness, closedAt: at(3), state: 'normal', active: false });
  const span = { from: at(0), to: at(48) };

  test('counts claims against what was found', () => {
    const answer = confusionOf(
      [
        closed('a', 'air-leak', 'air-leak', 'nearly certain'),
        closed('b', 'air-leak', 'trapped-volume', 'nearly certain'),
        closed('c', 'hydrogen', 'pumping-loss', 'open'),
        closed('d', 'water', 'not-found'),
        closed('e', 'water', null),
        alert('open'),
      ],
      span,
    );
    expect(answer).toMatchObject({ closed: 5, verified: 4 });
    expect(answer.cells.find(({ verified }) => verified === 'pumping-loss')).toEqual({
      claimed: 'hydrogen',
      verified: 'pumping-loss',
      alerts: ['c'],
    });
    expect(answer.rightFirst).toBeCloseTo(2 / 3, 12);
    expect(answer.sureness.find(({ word }) => word === 'nearly certain')).toMatchObject({ alerts: 2, right: 2 });
    expect(answer.sureness.find(({ word }) => word === 'open')).toMatchObject({ alerts: 1, right: 0 });
  });

  test('says nothing where nothing was verified', () => {
    expect(confusionOf([closed('e', 'water', null)], span).rightFirst).toBeNull();
  });

  test('air that was shut in was air', () => {
    expect(isRight('air-leak', 'trapped-volume')).toBe(true);
    expect(isRight('water', 'trapped-volume')).toBe(false);
  });
});
