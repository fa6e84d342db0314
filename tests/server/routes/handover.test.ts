import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { FLEET, NOW, openWorld, putAlert, putReadings, type World } from '../world.ts';

let world: World;
let operator: string;
let viewer: string;
beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  operator = await world.tokenOf('operator');
  viewer = await world.tokenOf('viewer');
});
afterAll(() => world.close());
beforeEach(async () => {
  world.at(NOW);
  await world.db.sql`truncate readings, latest, alerts, alert_moves, rounds, handover_entries, audit`;
});

const hours = (count: number) => new Date(NOW.getTime() + count * 3_600_000);
const draft = async (area = 'north') => {
  const { status, body } = await world.ask('GET', `/api/v1/round/handover?area=${area}`, { token: viewer });
  expect(status).toBe(200);
  expect(body.areas).toHaveLength(1);
  return body.areas[0];
};
const write = (body: Record<string, unknown>, token = operator) =>
  world.ask('POST', '/api/v1/handover/entries', { body, token });
const close = (id: string, body: Record<string, unknown> = {}, token = operator) =>
  world.ask('POST', `/api/v1/handover/entries/${id}/close`, { body, token });
const audited = async () =>
  (await world.db.sql<{ what: string; by: string }[]>`select what, by from audit order by id`).map(({ what }) => what);

describe('the draft', () => {
  test('holds what is open with who acknowledged it, what is put away with its end, and what is not seen', async () => {
    await putReadings(world, [{ at: new Date(NOW.getTime() - 60_000) }]);
    await putAlert(world, { id: 'leak', priority: 'low' });
    await putAlert(world, { id: 'wet', signature: 'water', gases: ['H2O'], priority: 'medium' });
    await putAlert(world, { id: 'oil', signature: 'hydrocarbon-oil' });
    await putAlert(world, { id: 'gain', signature: 'sensitivity-drift' });
    await putAlert(world, { id: 'he', signature: 'helium' });
    const move = (id: string, verb: string, body: unknown) =>
      world.ask(
        'POST',
        `/api/v1/alerts/${id}/${verb}`,
        verb === 'out-of-service' ? { body } : { body, token: operator },
      );
    await move('wet', 'acknowledge', { note: 'lid was open' });
    await move('oil', 'shelve', { until: hours(2).toISOString(), reason: 'pump is being changed' });
    await move('gain', 'out-of-service', { until: hours(48).toISOString(), reason: 'multiplier on order' });
    await world.db.sql`
      update alerts set state = 'suppressed', suppressed_since = ${NOW}, suppressed_reason = 'leak-check' where id = 'he'`;

    const north = await draft();
    expect(north).toMatchObject({ area: 'north', areaName: 'North hall', at: NOW.toISOString() });
    expect(north.open).toMatchObject([
      {
        id: 'wet',
        chamber: 'n-prep-1',
        chamberName: 'Preparation 1',
        priority: 'medium',
        state: 'acknowledged',
        acknowledged: { by: 'operator token', at: NOW.toISOString(), note: 'lid was open' },
      },
      { id: 'leak', state: 'unacknowledged', acknowledged: null, firstStep: 'First close valve V2.' },
    ]);
    expect(north.shelved).toMatchObject([
      {
        id: 'oil',
        by: 'operator token',
        since: NOW.toISOString(),
        until: hours(2).toISOString(),
        reason: 'pump is being changed',
      },
    ]);
    expect(north.suppressed).toMatchObject([{ id: 'he', by: null, until: null, reason: 'leak-check' }]);
    expect(north.outOfService).toMatchObject([
      { id: 'gain', by: 'admin token', until: hours(48).toISOString(), reason: 'multiplier on order' },
    ]);
    expect(north.unseen).toEqual([]);
    expect((await draft('south')).unseen).toMatchObject([{ chamber: 's-load-1', health: 'blind', lastScanAt: null }]);
  });

  test('of all areas in the order of the document; 404 for one that is not there', async () => {
    const { body } = await world.ask('GET', '/api/v1/round/handover');
    expect(body.areas.map(({ area }: { area: string }) => area)).toEqual(['north', 'south']);
    expect((await world.ask('GET', '/api/v1/round/handover?area=east')).status).toBe(404);
  });
});

describe('what people write', () => {
  test('is listed by kind, the next that is due first, and stays over signed rounds until it is closed', async () => {
    const { status, body } = await write({ kind: 'promise', chamber: 'n-prep-1', text: ' call the beamline back ' });
    expect([status, body]).toEqual([
      201,
      {
        id: expect.any(String),
        area: 'north',
        kind: 'promise',
        chamber: 'n-prep-1',
        chamberName: 'Preparation 1',
        text: 'call the beamline back',
        dueAt: null,
        at: NOW.toISOString(),
        by: 'operator token',
        doneAt: null,
        doneBy: null,
        doneNote: null,
      },
    ]);
    await write({ kind: 'promise', area: 'north', text: 'late', dueAt: hours(9).toISOString() });
    await write({ kind: 'promise', area: 'north', text: 'soon', dueAt: hours(1).toISOString() });
    await write({ kind: 'work', area: 'north', text: 'spare multiplier, work order 4471' });
    await write({ kind: 'watch', area: 'south', text: 'argon next door' });
    const texts = (list: { text: string }[]) => list.map(({ text }) => text);
    world.at(hours(3));
    await world.ask('POST', '/api/v1/round/sign', { body: { area: 'north' }, token: operator });
    const north = await draft();
    expect(texts(north.promises)).toEqual(['soon', 'late', 'call the beamline back']);
    expect(texts(north.work)).toEqual(['spare multiplier, work order 4471']);
    expect(north.watch).toEqual([]);
    expect(texts((await draft('south')).watch)).toEqual(['argon next door']);

    world.at(hours(4));
    const closed = await close(body.id, { note: 'called' });
    expect(closed).toMatchObject({
      status: 200,
      body: { doneAt: hours(4).toISOString(), doneBy: 'operator token', doneNote: 'called' },
    });
    expect(texts((await draft()).promises)).toEqual(['soon', 'late']);
    expect(texts((await draft()).done)).toEqual(['call the beamline back']);
    await world.ask('POST', '/api/v1/round/sign', { body: { area: 'north' }, token: operator });
    world.at(hours(5));
    expect((await draft()).done).toEqual([]);
    const all = (await world.ask('GET', '/api/v1/handover/entries?chamber=n-prep-1', { token: viewer })).body.entries;
    expect(all).toMatchObject([{ id: body.id, doneBy: 'operator token' }]);
    expect((await world.ask('GET', '/api/v1/handover/entries?chamber=n-prep-1&open=true')).body.entries).toEqual([]);
    expect(await audited()).toEqual([
      ...Array(5).fill('handover entry written'),
      'round signed',
      'handover entry closed',
      'round signed',
    ]);
  });

  test('is closed once: the second hears who was first', async () => {
    const { body } = await write({ kind: 'work', area: 'north', text: 'seal' });
    await close(body.id);
    const again = await close(body.id, {}, await world.tokenOf('engineer'));
    expect(again.status).toBe(409);
    expect(again.body.detail).toBe(`This is closed already: operator token was first, ${NOW.toISOString()}.`);
    expect((await close('entry-none')).status).toBe(404);
  });

  test('goes with its chamber when the fleet moves it to another area', async () => {
    await write({ kind: 'watch', chamber: 'n-prep-1', text: 'water' });
    await world.db.sql`update chambers set area = 'south' where id = 'n-prep-1'`;
    expect((await draft('south')).watch).toHaveLength(1);
    expect((await draft('north')).watch).toHaveLength(0);
    await world.db.sql`update chambers set area = 'north' where id = 'n-prep-1'`;
  });

  test.each([
    [{ kind: 'work', text: 'x' }, 422, '/area: name an area or a chamber'],
    [{ kind: 'work', area: 'north', text: ' ' }, 422, '/text: must not be empty'],
    [{ kind: 'work', area: 'north', text: '' }, 400, /\/text/],
    [{ kind: 'gossip', area: 'north', text: 'x' }, 400, /\/kind/],
    [{ kind: 'work', area: 'north', text: 'x', dueAt: 'soon' }, 400, /\/dueAt: must be a time/],
    [{ kind: 'work', area: 'north', text: 'x', dueAt: '2020-01-01T00:00:00Z' }, 422, '/dueAt: lies in the past'],
    [{ kind: 'work', area: 'south', chamber: 'n-prep-1', text: 'x' }, 422, /\/area: n-prep-1 stands in north/],
    [{ kind: 'work', area: 'east', text: 'x' }, 404, 'There is no area east.'],
    [{ kind: 'work', chamber: 'none', text: 'x' }, 404, 'There is no chamber none.'],
    [{ kind: 'work', area: 'north', text: 'x', colour: 'red' }, 400, /colour/],
  ])('%j is refused', async (body, status, detail) => {
    const answer = await write(body);
    expect(answer.status).toBe(status);
    expect(answer.body.detail).toMatch(detail);
    expect(await world.db.sql`select 1 from handover_entries`).toHaveLength(0);
  });

  test('a viewer reads and does not write', async () => {
    expect((await write({ kind: 'work', area: 'north', text: 'x' }, viewer)).status).toBe(403);
    expect((await close('entry-none', {}, viewer)).status).toBe(403);
    expect((await world.ask('GET', '/api/v1/handover/entries', { token: viewer })).status).toBe(200);
  });
});

test('the interface is described', async () => {
  const { paths } = (await world.ask('GET', '/api/v1/openapi.json')).body;
  for (const path of [
    '/api/v1/round/handover',
    '/api/v1/round/{id}/countersign',
    '/api/v1/rounds',
    '/api/v1/handover/entries',
    '/api/v1/handover/entries/{id}/close',
  ])
    expect(Object.keys(paths)).toContain(path);
});
