/** The worker as a process, with nudges through PostgreSQL and through Redis. */
import { type ChildProcess, spawn } from 'node:child_process';
import { resolve } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { BUILT_IN_RATIONALISATION } from '../../shared/catalogue/rationalisation.ts';
import { type Database, openDatabase } from '../../shared/db/connect.ts';
import { migrateQueue, type Nudges, openNudges } from '../../shared/queues.ts';
import { openWorkshop } from '../../workers/openWorkshop.ts';
import { makeScience } from '../../workers/science.ts';
import { ask, recomputation, taskOf, workToTheEnd } from '../support/askedTasks.ts';
import { askRehearsal, rehearsed } from '../support/rehearsals.ts';
import { type FreshDatabase, freshDatabase, quiet, type RedisServer, redisServer } from '../support/services.ts';
import { accept, aFleet, aScan, minutesAfter, storeFleet } from '../support/storedFleet.ts';

const root = resolve(import.meta.dirname, '../..');
const started: ChildProcess[] = [];

const startWorker = (environment: Record<string, string>): ChildProcess => {
  const child = spawn(process.execPath, ['--import', 'tsx', 'workers/main.ts'], {
    cwd: root,
    env: { ...process.env, REDIS_URL: '', ULLAGE_LOG: 'error', ...environment },
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  started.push(child);
  return child;
};
const endOf = (child: ChildProcess): Promise<number | null> =>
  new Promise((done) => (child.exitCode !== null ? done(child.exitCode) : child.once('exit', (code) => done(code))));

afterEach(async () => {
  for (const child of started.splice(0)) {
    if (child.exitCode !== null || child.signalCode !== null) continue;
    child.kill('SIGKILL');
    await endOf(child);
  }
});

describe.each(['PostgreSQL', 'Redis'])('nudges through %s', (backend) => {
  let fresh: FreshDatabase;
  let redis: RedisServer | null = null;
  let database: Database;
  let nudges: Nudges;

  beforeAll(async () => {
    fresh = await freshDatabase();
    await migrateQueue(fresh.url);
    if (backend === 'Redis') redis = await redisServer();
    database = openDatabase(fresh.url, { applicationName: 'test', log: quiet });
    nudges = await openNudges({ databaseUrl: fresh.url, redisUrl: redis?.url ?? null, log: quiet });
    await storeFleet(database.sql, aFleet('c1', 'c2'));
  });
  afterAll(async () => {
    await nudges.close();
    await database.close();
    await redis?.remove();
    await fresh.drop();
  });

  const start = () => startWorker({ DATABASE_URL: fresh.url, REDIS_URL: redis?.url ?? '' });
  const give = (chamber: string, from: number, count: number) =>
    accept(database.sql, {
      chamber,
      scans: Array.from({ length: count }, (_, i) => aScan(from + i, { analyser: `${chamber}-a` })),
    });
  const readings = async () =>
    (await database.sql<{ n: number }[]>`select count(*)::int as n from readings where estimates is not null`)[0]?.n;
  const analysed = (count: number) => expect.poll(readings, { timeout: 120_000, interval: 50 }).toBe(count);

  test('what is nudged is analysed, what was not is found, and SIGTERM ends it cleanly', async () => {
    const worker = start();
    await give('c1', 0, 30);
    await nudges.nudge(['c1']);
    await analysed(30);
    await give('c2', 0, 30);
    await analysed(60);
    await give('c1', 100, 2_000);
    await nudges.nudge(['c1']);
    worker.kill('SIGTERM');
    expect(await endOf(worker)).toBe(0);
  });

  test('what it left undone, others do together', async () => {
    const left = await database.sql`select 1 from outstanding_scans`;
    const workers = [start(), start()];
    await nudges.nudge(['c1', 'c2']);
    await expect.poll(() => database.sql`select 1 from outstanding_scans`, { timeout: 120_000 }).toHaveLength(0);
    await analysed(2_060);
    expect(left.length).toBeLessThanOrEqual(2_000);
    for (const worker of workers) worker.kill('SIGTERM');
    expect(await Promise.all(workers.map(endOf))).toEqual([0, 0]);
  });

  // Once is enough: the sweep that finds it is the same whatever carries the nudges.
  test.runIf(backend === 'PostgreSQL')(
    'a recomputation that was never nudged, and whose worker is killed, is finished by another',
    async () => {
      await ask(database, 't1', recomputation(0, 5_000), new Date(0));
      const first = start();
      const come = async () => (await taskOf(database, 't1')).scans ?? 0;
      await expect.poll(come, { timeout: 120_000, interval: 5 }).toBeGreaterThan(0);
      first.kill('SIGKILL');
      await endOf(first);
      const left = await taskOf(database, 't1');
      const second = start();
      await expect.poll(async () => (await taskOf(database, 't1')).state, { timeout: 120_000 }).toBe('done');
      const rows = await database.sql`select scan_id from recomputed_readings where task = 't1'`;
      expect(rows).toHaveLength(2_030);
      expect(await taskOf(database, 't1')).toMatchObject({ scans: 2_030, problem: null });
      expect(left.scans).toBeLessThanOrEqual(2_030);
      second.kill('SIGTERM');
      expect(await endOf(second)).toBe(0);
    },
  );

  test.runIf(backend === 'PostgreSQL')(
    'a rehearsal whose worker is killed is finished by another, and says what one worker says',
    async () => {
      const change = { kind: 'rationalisation', signature: 'water' } as const;
      const record = { ...BUILT_IN_RATIONALISATION.water.record, onDelayScans: 9 };
      const request = { chamber: 'c1', change: { ...change, record } };
      const asked = { request, places: [{ chamber: 'c1', analyser: 'c1-a' }], askedAt: minutesAfter(10_000) };
      await askRehearsal(database, 'r1', asked);
      const first = start();
      await nudges.nudge(['c1']);
      const come = async () => (await rehearsed(database, 'r1')).scans ?? 0;
      await expect.poll(come, { timeout: 120_000, interval: 5 }).toBeGreaterThan(0);
      first.kill('SIGKILL');
      await endOf(first);
      expect(await rehearsed(database, 'r1')).toMatchObject({ state: 'waiting', result: { ofScans: 2_030 } });
      const second = start();
      await nudges.nudge(['c1']);
      await expect.poll(async () => (await rehearsed(database, 'r1')).state, { timeout: 120_000 }).toBe('done');
      second.kill('SIGTERM');
      expect(await endOf(second)).toBe(0);
      await askRehearsal(database, 'r2', asked);
      await workToTheEnd(openWorkshop({ database, science: makeScience(), log: quiet, stopping: () => false }));
      const { result, scans } = await rehearsed(database, 'r1');
      expect(await rehearsed(database, 'r2')).toMatchObject({ state: 'done', result, scans });
      expect(scans).toBe(2_030);
    },
  );
});

describe('without a database', () => {
  test('that answers, the process ends instead of spinning, for its supervisor to start it anew', async () => {
    const nowhere = 'postgres:///nowhere?host=/nonexistent/ullage&user=nobody';
    expect(await endOf(startWorker({ DATABASE_URL: nowhere, ULLAGE_LOG: 'silent' }))).toBe(1);
  });

  test('in its settings, it says who starts workers', async () => {
    expect(await endOf(startWorker({ DATABASE_URL: '', ULLAGE_LOG: 'silent' }))).toBe(1);
  });
});
