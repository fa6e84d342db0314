/** Latching, breaks of service, verified causes: what people do with an alert, over HTTP and in the database. */
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { FLEET, NOW, openWorld, putAlert, type World } from '../world.ts';

let world: World;
const tokens: Record<string, string> = {};
beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  for (const [name, role] of [
    ['anna', 'operator'],
    ['bert', 'operator'],
    ['eve', 'engineer'],
    ['vera', 'viewer'],
  ])
    tokens[name as string] = (await world.ask('POST', '/api/v1/tokens', { body: { name, role } })).body.token;
});
afterAll(() => world.close());
beforeEach(async () => {
  world.at(NOW);
  await world.db.sql`truncate alerts, alert_moves, service_breaks, audit`;
  await putAlert(world, { id: 'leak' });
});

const inHours = (hours: number) => new Date(NOW.getTime() + hours * 3_600_000).toISOString();
const move = (name: string, who: string, body: unknown = {}, id = 'leak') =>
  world.ask('POST', `/api/v1/alerts/${id}/${name}`, { body, token: tokens[who] as string });
const read = async (id = 'leak') => (await world.ask('GET', `/api/v1/alerts/${id}`)).body;
const change = (set: Record<string, unknown>) => world.db.sql`update alerts set ${world.db.sql(set)} where id = 'leak'`;
const audited = async () =>
  (await world.db.sql`select by, what, detail from audit order by id`).map((row) => ({ ...row }));

describe('shelving', () => {
  test('lasts 24 hours at most, and is counted', async () => {
    expect(await move('shelve', 'anna', { until: inHours(24.1), reason: 'part ordered' })).toMatchObject({
      status: 422,
      body: { detail: '/until: lies more than 24 hours ahead' },
    });
    expect((await move('shelve', 'anna', { until: inHours(24), reason: 'part ordered' })).body).toMatchObject({
      state: 'shelved',
      shelvings: 1,
    });
    await move('unshelve', 'anna');
    await move('shelve', 'bert', { until: inHours(1), reason: 'part ordered' });
    expect(await read()).toMatchObject({ shelvings: 2, latched: false });
  });

  test('a second one is told who was first', async () => {
    await move('shelve', 'anna', { until: inHours(8), reason: 'part ordered' });
    const second = await move('shelve', 'bert', { until: inHours(9), reason: 'mine' });
    expect(second.status).toBe(409);
    expect(second.body.detail).toMatch(
      /already shelved until .* \(part ordered\)\. The last to move it was anna, at .* \(shelve\)\.$/,
    );
    await move('unshelve', 'anna');
    expect((await move('unshelve', 'bert')).body.detail).toMatch(/not shelved.* was anna, at .* \(unshelve\)/);
  });
});

describe('a latched alert', () => {
  beforeEach(() => change({ latching: true }));

  test('is reset once it is acknowledged and its condition has returned, and not before', async () => {
    expect(await read()).toMatchObject({ latched: true });
    expect((await move('reset', 'anna')).body.detail).toContain('its condition has stood since');
    await change({ active: false, returned_at: NOW, state: 'returned-unacknowledged', held_by: [] });
    expect((await move('reset', 'anna')).body.detail).toContain('acknowledge it first');
    expect((await move('acknowledge', 'anna', { note: 'seen' })).body).toMatchObject({ state: 'acknowledged' });
    expect((await move('reset', 'vera')).status).toBe(403);
    const over = await move('reset', 'bert', { note: 'mirror cleaned' });
    expect(over.body).toMatchObject({ state: 'normal', latched: false, closed: null });
    const late = await move('reset', 'anna');
    expect(late.status).toBe(409);
    expect(late.body.detail).toMatch(/over since it was reset\. The last to move it was bert/);
    expect((await read()).moves.at(-1)).toMatchObject({
      move: 'reset',
      by: 'bert',
      note: 'mirror cleaned',
      to: 'normal',
    });
  });

  test('what does not latch is not reset', async () => {
    await change({ latching: false, active: false, returned_at: NOW, state: 'returned-unacknowledged' });
    expect((await move('reset', 'anna')).body.detail).toContain('does not latch');
  });
});

describe('out of service', () => {
  const body = { until: inHours(24 * 30), reason: 'gauge at repair' };

  test("is an engineer's decision with an end within 90 days and a reason; it makes a break and is audited", async () => {
    expect((await move('out-of-service', 'anna', body)).status).toBe(403);
    for (const [wrong, status, path] of [
      [{ ...body, until: inHours(24 * 91) }, 422, '/until'],
      [{ ...body, until: inHours(-1) }, 422, '/until'],
      [{ ...body, until: 'soon' }, 400, '/until'],
      [{ ...body, reason: ' ' }, 422, '/reason'],
      [{ until: body.until }, 400, '/reason'],
    ] as const)
      expect(await move('out-of-service', 'eve', wrong)).toMatchObject({ status, body: { errors: [{ path }] } });
    expect((await move('out-of-service', 'eve', body)).body).toMatchObject({
      state: 'out-of-service',
      outOfService: { ...body, by: 'eve' },
    });
    const { breaks } = (await world.ask('GET', '/api/v1/service-breaks')).body;
    const own = { chamber: 'n-prep-1', signature: 'air-leak' };
    expect(breaks).toEqual([{ ...own, ...body, setAt: NOW.toISOString(), setBy: 'eve' }]);
    expect(await audited()).toEqual([{ by: 'eve', what: 'taken out of service', detail: { ...own, ...body } }]);
  });

  test('neither acknowledged nor shelved meanwhile; given back as it was, and the break is over', async () => {
    await move('acknowledge', 'anna', { note: 'seen' });
    await move('out-of-service', 'eve', body);
    for (const [name, more] of [
      ['acknowledge', {}],
      ['shelve', { until: inHours(1), reason: 'x' }],
      ['out-of-service', body],
    ] as const) {
      const refused = await move(name, 'eve', more);
      expect(refused.status).toBe(409);
      expect(refused.body.detail).toContain('already taken out of service by eve until');
    }
    expect((await move('return-to-service', 'anna')).status).toBe(403);
    expect((await move('return-to-service', 'eve')).body).toMatchObject({
      state: 'acknowledged',
      outOfService: null,
      acknowledged: { by: 'anna' },
    });
    expect((await world.ask('GET', '/api/v1/service-breaks')).body.breaks).toEqual([]);
    expect((await move('return-to-service', 'eve')).status).toBe(409);
    expect((await audited()).map(({ what }) => what)).toEqual(['taken out of service', 'returned to service']);
  });

  test('the break outlives an alert that is closed, and can be ended from there', async () => {
    await move('out-of-service', 'eve', body);
    expect((await move('close', 'anna', { cause: 'gauge' })).body).toMatchObject({
      state: 'normal',
      outOfService: null,
    });
    expect((await world.ask('GET', '/api/v1/service-breaks')).body.breaks).toHaveLength(1);
    expect((await move('return-to-service', 'eve')).status).toBe(200);
    expect((await world.ask('GET', '/api/v1/service-breaks')).body.breaks).toEqual([]);
    expect((await move('return-to-service', 'eve')).status).toBe(409);
  });

  test('a break that is over by the clock is not listed', async () => {
    await move('out-of-service', 'eve', { until: inHours(1), reason: 'x' });
    world.at(new Date(NOW.getTime() + 2 * 3_600_000));
    expect((await world.ask('GET', '/api/v1/service-breaks')).body.breaks).toEqual([]);
  });
});

describe('a chamber whose alert is put away', () => {
  test('says so instead of resting', async () => {
    await move('out-of-service', 'eve', { until: inHours(24 * 30), reason: 'gauge at repair' });
    const chamber = (await world.ask('GET', '/api/v1/chambers/n-prep-1')).body;
    expect(chamber).toMatchObject({ openAlerts: 1, worst: null });
    expect(chamber.say).toContain('out of service for another 30\u00a0days (gauge at repair)');
  });
});

describe('closing', () => {
  test.each([
    [{ cause: 'seal at V2', verified: 'air-leak' }, 'air-leak'],
    [{ cause: 'trapped-volume' }, 'trapped-volume'],
    [{ cause: 'not-found', verified: 'false-alert' }, 'false-alert'],
    [{ cause: 'seal at V2' }, null],
  ])('%j keeps what was found: %s', async (body, verified) => {
    expect((await move('close', 'anna', body)).body).toMatchObject({
      state: 'normal',
      verified,
      closed: { by: 'anna' },
    });
    expect(await read()).toMatchObject({ verified });
  });

  test('with a word that is none: 400', async () => {
    const wrong = await move('close', 'anna', { cause: 'seal', verified: 'ghost' });
    expect(wrong).toMatchObject({ status: 400, body: { errors: [{ path: '/verified' }] } });
  });
});

describe('one alert in full', () => {
  test('shows the record that it was raised under, and the change that it stands on', async () => {
    const changed = { masses: [28], usualPa: [1e-8], changePa: [3e-8], sigmaPa: [1e-9], gaugeChangePa: null };
    await world.db.sql`update alerts set finding = finding || ${world.db.sql.json({ change: changed })}`;
    const body = await read();
    expect(body.change).toEqual(changed);
    expect(body.rationalisation).toMatchObject({ signature: 'air-leak', version: 0, record: { priority: 'high' } });
    expect(body.newerRationalisation).toBeNull();
  });
});
