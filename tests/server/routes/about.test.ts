import { readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { aScan, FLEET, NOW, openWorld, putReadings, type World } from '../world.ts';

let world: World;
let depth: () => Promise<number> = async () => 3;
const STEPS = readdirSync(resolve(import.meta.dirname, '../../../migrations')).filter((file) =>
  /^\d+.*\.sql$/.test(file),
);
const at = (seconds: number) => new Date(NOW.getTime() + seconds * 1000);

beforeAll(async () => {
  world = await openWorld({ queueDepth: () => depth(), dataDir: tmpdir() });
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
});
afterAll(() => world.close());

describe('what is installed', () => {
  test('versions, and the steps that the database has taken', async () => {
    const { body } = await world.ask('GET', '/api/v1/about');
    expect(body).toMatchObject({ version: '0.0.0', startedAt: NOW.toISOString() });
    expect(body.migration).toEqual({
      applied: STEPS.length,
      known: STEPS.length,
      newest: STEPS.sort().at(-1)?.replace('.sql', ''),
    });
    const gases = (await world.ask('GET', '/api/v1/gases')).body;
    expect(body.catalogue).toEqual({ version: gases.version, gases: gases.gases.length });
  });

  test('how far behind: scans with the age of the oldest, tasks, nudges', async () => {
    expect((await world.ask('GET', '/api/v1/about')).body.waiting).toEqual({
      scans: 0,
      oldestSeconds: null,
      tasks: 0,
      nudges: 3,
    });
    await world.ask('POST', '/api/v1/scans', { body: { scans: [aScan()] } });
    world.at(at(90));
    await world.ask('POST', '/api/v1/scans', { body: { scans: [aScan()] } });
    expect((await world.ask('GET', '/api/v1/about')).body.waiting).toMatchObject({ scans: 2, oldestSeconds: 90 });
    world.at(NOW);
  });

  test('a queue that does not answer is not an empty one', async () => {
    depth = () => Promise.reject(new Error('away'));
    expect((await world.ask('GET', '/api/v1/about')).body.waiting.nudges).toBeNull();
    depth = async () => 3;
  });
});

describe('what keeps it running', () => {
  const operation = async () => (await world.ask('GET', '/api/v1/about/operation')).body;

  test('is for engineers', async () => {
    const token = await world.tokenOf('operator');
    expect((await world.ask('GET', '/api/v1/about/operation', { token })).status).toBe(403);
  });

  test('database, disk and processes', async () => {
    const body = await operation();
    const [{ version, bytes } = { version: '', bytes: 0 }] = await world.db.sql<{ version: string; bytes: number }[]>`
      select current_setting('server_version') as version, pg_database_size(current_database())::float8 as bytes`;
    expect(body.database.version).toBe(version);
    expect(body.database.bytes / bytes).toBeCloseTo(1, 1);
    expect(body.disk.freeBytes).toBeGreaterThan(0);
    expect(body.disk.bytes).toBeGreaterThan(body.disk.freeBytes);
    expect(body.processes).toEqual([
      { name: 'ullage-test', connections: expect.any(Number), since: expect.stringMatching(/Z$/) },
    ]);
  });

  test('a data folder that cannot be read is not known, and never zero', async () => {
    const other = await openWorld({ dataDir: join(tmpdir(), 'nowhere-at-all') });
    expect((await other.ask('GET', '/api/v1/about/operation')).body.disk).toBeNull();
    await other.close();
  });

  test('a gateway whose clock is ahead shows as a scan that came before it was made', async () => {
    expect((await operation()).arrival).toBeNull();
    await putReadings(world, [
      { analyser: 'n-prep-1-a', at: at(-20) },
      { analyser: 'n-prep-1-b', at: at(3) },
      { chamber: 's-load-1', analyser: 's-load-1-a', at: at(-70) },
    ]);
    await world.db.sql`update latest set received_at = ${NOW}`;
    expect((await operation()).arrival).toEqual({
      analysers: 3,
      medianSeconds: 20,
      earliest: { analyser: 'n-prep-1-b', seconds: -3 },
      latest: { analyser: 's-load-1-a', seconds: 70 },
    });
  });
});

describe('backups', () => {
  const report = (body: unknown, token?: string) =>
    world.ask('POST', '/api/v1/backups', { body, ...(token ? { token } : {}) });
  const last = async () => (await world.ask('GET', '/api/v1/about/operation')).body.lastBackup;

  test('none is known until one is reported', async () => {
    expect(await last()).toBeNull();
    const token = await world.tokenOf('engineer');
    const made = await report({ at: '2026-03-02T03:00:00+01:00', kind: 'database', note: 'to tape' }, token);
    expect(made.status).toBe(201);
    const expected = {
      at: '2026-03-02T02:00:00.000Z',
      kind: 'database',
      note: 'to tape',
      by: 'engineer token',
      reportedAt: NOW.toISOString(),
    };
    expect(made.body).toEqual(expected);
    expect(await last()).toEqual(expected);
    expect(await world.db.sql`select by, detail->>'note' as note from audit where what = 'backup reported'`).toEqual([
      { by: 'engineer token', note: 'to tape' },
    ]);
  });

  test('an older one does not take the place of a newer one; one of the future is no backup', async () => {
    expect((await report({ at: '2026-03-01T02:00:00Z', kind: 'data folder' })).status).toBe(409);
    expect((await report({ at: '2026-03-03T02:00:00Z', kind: 'data folder' })).status).toBe(422);
    expect((await report({ at: 'yesterday', kind: 'data folder' })).status).toBe(400);
    expect((await report({ at: '2026-03-02T02:00:00Z', kind: 'wish' })).status).toBe(400);
    expect((await last()).note).toBe('to tape');
    expect((await report({ at: '2026-03-02T11:00:00Z', kind: 'data folder' })).status).toBe(201);
    expect(await last()).toMatchObject({ kind: 'data folder', note: '' });
  });
});
