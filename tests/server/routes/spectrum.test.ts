import { afterAll, beforeAll, expect, test } from 'vitest';
import { aScan, FLEET, NOW, openWorld, putReadings, type World } from '../world.ts';

let world: World;
const minutesAgo = (minutes: number) => new Date(NOW.getTime() - minutes * 60_000);
const at = (minutes: number) => minutesAgo(minutes).toISOString();
const get = (path: string) => world.ask('GET', `/api/v1/chambers/n-prep-1/${path}`);

const PEAKS = [
  { mass: 28, value: 1e-7, sigma: 1e-10, baseline: null, parts: [{ gas: 'N2', share: 0.9 }], unexplained: 0.1 },
];
const spectrum = (scanId: string) => ({ scanId, seconds: 20, averages: 2, detector: 'faraday', peaks: PEAKS });

beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  const scans = [9, 5, 1].map((minute) =>
    aScan({
      ...{ id: `m${minute}`, at: at(minute), masses: { first: 27, last: 29, perUnit: 2 }, detector: 'faraday' },
      values: [1e-12, 2e-12, null, -1e-15, 5e-13],
    }),
  );
  await world.ask('POST', '/api/v1/scans', { body: { scans } });
  await putReadings(
    world,
    [9, 5, 1].map((minute) => ({ at: minutesAgo(minute), scanId: `m${minute}` })),
  );
  await world.db.sql`update latest set spectrum = ${world.db.sql.json(spectrum('m1'))}`;
});
afterAll(() => world.close());

test('an earlier scan is asked of the workers once, and answered when they have it', async () => {
  const waiting = { status: 202, body: { state: 'waiting', at: at(5) } };
  expect(await get(`spectrum?at=${at(5)}`)).toMatchObject(waiting);
  // A moment between two scans means the one before it.
  expect(await get(`spectrum?at=${at(3)}`)).toMatchObject(waiting);
  expect(await world.db.sql`select kind, request from tasks`).toEqual([
    { kind: 'spectrum', request: { kind: 'spectrum', at: at(5) } },
  ]);
  expect(world.nudged).toContain('n-prep-1');
  const result = {
    floorPa: 1e-11,
    calibrationVersion: 'n-prep-1-a/1',
    catalogueVersion: 'k',
    spectrum: spectrum('m5'),
  };
  await world.db.sql`update tasks set state = 'done', result = ${world.db.sql.json(result)}`;
  expect(await get(`spectrum?at=${at(5)}&unit=mbar`)).toMatchObject({
    status: 200,
    body: {
      ...{ at: at(5), scanId: 'm5', unit: 'mbar', floor: 1e-13 },
      peaks: [{ mass: 28, value: 1e-9 }],
      again: { calibrationVersion: 'n-prep-1-a/1', catalogueVersion: 'k' },
    },
  });
  expect((await get(`spectrum?at=${at(1)}`)).body).not.toHaveProperty('again');
});

test('one that could not be worked out says why; before the first there is none', async () => {
  await get(`spectrum?at=${at(9)}`);
  await world.db.sql`
    update tasks set state = 'failed', problem = 'This scan gave no peaks; its reading says why.' where request ->> 'at' = ${at(9)}`;
  expect(await get(`spectrum?at=${at(9)}`)).toMatchObject({
    status: 404,
    body: { detail: expect.stringMatching(/gave no peaks/) },
  });
  expect(await get(`spectrum?at=${at(60)}`)).toMatchObject({
    status: 404,
    body: { detail: expect.stringMatching(/no scan of n-prep-1-a at or before/) },
  });
});

test('too many that wait are refused with a time to come back', async () => {
  await world.db.sql`
    insert into tasks (chamber, analyser, id, kind, request, state, asked_at, asked_by)
    select 'n-prep-1', 'n-prep-1-a', 'x' || n, 'spectrum', '{}', 'waiting', ${NOW}, 'ann' from generate_series(1, 20) n`;
  await world.db.sql`delete from tasks where request ->> 'at' = ${at(5)}`;
  const answer = await get(`spectrum?at=${at(5)}`);
  expect(answer.status).toBe(429);
  expect(answer.headers['retry-after']).toBeDefined();
});

test('a scan as it was sent, with its neighbours; not measured stays not measured', async () => {
  expect((await get(`scan?at=${at(4)}`)).body).toMatchObject({
    ...{ at: at(5), scanId: 'm5', analyser: 'n-prep-1-a', unit: 'A', detector: 'faraday' },
    masses: [27, 27.5, 28, 28.5, 29],
    values: [1e-12, 2e-12, null, -1e-15, 5e-13],
    previousAt: at(9),
    nextAt: at(1),
  });
  expect((await get('scan')).body).toMatchObject({ at: at(1), previousAt: at(5), nextAt: null });
  expect(await get(`scan?at=${at(60)}`)).toMatchObject({ status: 404 });
  expect(await get('scan?at=yesterday')).toMatchObject({ status: 400 });
});
