import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { FLEET, NOW, openWorld, putAlert, type World } from '../world.ts';

let world: World;
beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
});
afterAll(() => world.close());
beforeEach(async () => {
  await world.db.sql`truncate alerts, alert_moves`;
});

const ask = async (query = '') => (await world.ask('GET', `/api/v1/performance${query}`)).body;
const hoursAgo = (hours: number) => new Date(NOW.getTime() - hours * 3_600_000);

describe('alarm performance', () => {
  test('counts calls of the span, of the area, of the responder', async () => {
    await putAlert(world, { id: 'a', raisedAt: hoursAgo(2) });
    await putAlert(world, {
      id: 'b',
      chamber: 's-load-1',
      signature: 'water',
      raisedAt: hoursAgo(50),
      priority: 'low',
    });
    await putAlert(world, { id: 'old', signature: 'helium', raisedAt: hoursAgo(24 * 40), state: 'normal' });
    await world.db.sql`update alerts set responder = 'engineer' where id = 'b'`;
    expect((await ask()).annunciations).toBe(2);
    expect((await ask('?area=north')).annunciations).toBe(1);
    expect((await ask('?responder=engineer')).top).toEqual([
      { chamber: 's-load-1', signature: 'water', annunciations: 1, share: 1 },
    ]);
    expect((await ask(`?from=${hoursAgo(24 * 60).toISOString()}`)).annunciations).toBe(3);
  });

  test('a person who takes an alert back is no call; the clock that brings it back is one', async () => {
    await putAlert(world, { id: 'a', raisedAt: hoursAgo(9) });
    await world.db.sql`
      insert into alert_moves (chamber, alert, seq, at, by, move, from_state, to_state) values
        ('n-prep-1', 'a', 2, ${hoursAgo(8)}, 'Ida', 'shelve', 'unacknowledged', 'shelved'),
        ('n-prep-1', 'a', 3, ${hoursAgo(7)}, 'Ida', 'unshelve', 'shelved', 'unacknowledged'),
        ('n-prep-1', 'a', 4, ${hoursAgo(6)}, 'Ida', 'shelve', 'unacknowledged', 'shelved'),
        ('n-prep-1', 'a', 5, ${hoursAgo(5)}, null, 'unshelve', 'shelved', 'unacknowledged'),
        ('n-prep-1', 'a', 6, ${hoursAgo(4)}, null, 'priority', 'unacknowledged', 'unacknowledged')`;
    expect((await ask()).annunciations).toBe(2);
  });

  test('an empty fleet of alerts gives an answer with nothing in it, not an error', async () => {
    const answer = await ask();
    expect(answer).toMatchObject({ annunciations: 0, top: [], floods: [], days: 30 });
    expect(answer.measures.find(({ id }: { id: string }) => id === 'top-ten-share')).toMatchObject({ value: null });
    expect(answer.perDay.length).toBeGreaterThanOrEqual(30);
  });

  test('refuses what it cannot answer', async () => {
    const status = async (query: string) => (await world.ask('GET', `/api/v1/performance${query}`)).status;
    expect(await status('?area=nowhere')).toBe(404);
    expect(await status('?responder=nobody')).toBe(400);
    expect(await status(`?from=${NOW.toISOString()}&to=${hoursAgo(1).toISOString()}`)).toBe(422);
    expect(await status(`?from=${hoursAgo(24 * 500).toISOString()}`)).toBe(422);
    expect((await world.ask('GET', '/api/v1/performance', { token: null })).status).toBe(401);
  });
});

test('confusion: what was claimed against what was found', async () => {
  await putAlert(world, { id: 'a', raisedAt: hoursAgo(9), state: 'normal' });
  await world.db.sql`update alerts set closed_at = ${hoursAgo(2)}, closed_by = 'Ida', closed_cause = 'nitrogen purge',
    verified = 'gas-inleak', active = false where id = 'a'`;
  const { body } = await world.ask('GET', '/api/v1/performance/confusion');
  expect(body).toMatchObject({ closed: 1, verified: 1, rightFirst: 0 });
  expect(body.cells).toEqual([{ claimed: 'air-leak', verified: 'gas-inleak', alerts: ['a'] }]);
  const elsewhere = await world.ask('GET', '/api/v1/performance/confusion?area=south');
  expect(elsewhere.body.closed).toBe(0);
});
