/**
 * Server, worker, database and queue are killed at random while gateways send. Whatever dies: a scan that was answered
 * with 2xx is there once and has one reading, and the product ends where it would have ended without any fault.
 *
 * FAULT_SEED=… repeats a run's choices (not its timing); FAULT_KILLS=… makes it longer; FAULT_QUEUE=postgres sends the
 * nudges through the database instead of Redis.
 */
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Scan, ScanAnswer } from '../../shared/contract/scans.ts';
import { withDatabase } from '../../shared/db/address.ts';
import { openDatabase } from '../../shared/db/connect.ts';
import { migrateDatabase } from '../../shared/db/migrate.ts';
import { migrateQueue } from '../../shared/queues.ts';
import { analyseChamber } from '../../workers/analyseChamber.ts';
import { openWorkshop } from '../../workers/openWorkshop.ts';
import { makeScience } from '../../workers/science.ts';
import { type Product, startProduct } from '../support/productProcesses.ts';
import { type OwnCluster, ownCluster, quiet, type RedisServer, redisServer } from '../support/services.ts';
import { accept, storeFleet, whatIsStored } from '../support/storedFleet.ts';
import { STORIES, type Story } from '../support/strangerFleet.ts';
import { fleetOf, scansOf, seeded } from '../support/strangers.ts';

const SEED = Number(process.env.FAULT_SEED ?? Date.now() % 1_000_000);
const KILLS = Number(process.env.FAULT_KILLS ?? 20);
const WITH_REDIS = process.env.FAULT_QUEUE !== 'postgres';
/** An order to wait, not a verdict: a run that is not done by then has hung. */
const PATIENCE_MS = 600_000;

const TOLD = ['air-wet', 'air-trap', 'gauge-low', 'quiet-baked', 'water'];
const stories = TOLD.map((id) => STORIES.find((one) => one.id === id) as Story);
const histories = new Map(
  stories.map((story) => [
    story.id,
    scansOf(story, {
      endMs: Date.parse('2024-03-04T18:00:00Z'),
      minutes: 240,
      periodSeconds: 30,
    }) as Scan[],
  ]),
);

let cluster: OwnCluster;
let redis: RedisServer;
let product: Product;
const acknowledged = new Map<string, Scan>();
let done = false;

beforeAll(async () => {
  console.log(`Faults: seed ${SEED}, ${KILLS} kills`);
  [cluster, redis] = await Promise.all([ownCluster(), redisServer()]);
  await migrateQueue(cluster.url);
});
afterAll(async () => {
  await product?.stop();
  await redis?.remove();
  await cluster?.remove();
});

/** Sends until it is answered, as a gateway does. */
const send = async (scans: readonly Scan[]): Promise<ScanAnswer> => {
  for (;;) {
    try {
      const response = await fetch(`${product.url}/api/v1/scans`, {
        method: 'POST',
        headers: { authorization: `Bearer ${product.adminToken}`, 'content-type': 'application/json' },
        body: JSON.stringify({ scans }),
        signal: AbortSignal.timeout(20_000),
      });
      if (response.ok) return (await response.json()) as ScanAnswer;
      if (response.status < 500 && response.status !== 429)
        throw Object.assign(new Error(await response.text()), { lasting: true });
    } catch (error) {
      if ((error as { lasting?: boolean }).lasting) throw error;
    }
    await sleep(100);
  }
};

/** One gateway per chamber, in time order; now and then it sends again what was already acknowledged. */
const gateway = async (story: Story, pace: () => Promise<void>) => {
  const random = seeded(SEED + story.seed);
  const scans = histories.get(story.id) as Scan[];
  for (let from = 0; from < scans.length; ) {
    await pace();
    const batch = scans.slice(from, from + 1 + Math.floor(random.uniform() * 12));
    const answer = await send(batch);
    expect(answer.rejected).toEqual([]);
    expect(answer.accepted + answer.duplicates).toBe(batch.length);
    for (const scan of batch) acknowledged.set(`${scan.analyser} ${scan.id}`, scan);
    from += batch.length;
    if (random.uniform() < 0.1) expect((await send(batch)).duplicates).toBe(batch.length);
  }
};

const NEMESIS = {
  server: async () => product.kill('server'),
  worker: async () => product.kill('worker'),
  database: async () => {
    process.kill(cluster.cluster.pid, 'SIGKILL');
    // Its backends notice within moments; until then the data folder is still theirs.
    for (let tries = 0; ; tries++) {
      await sleep(100);
      try {
        return await cluster.restart();
      } catch (error) {
        if (tries > 50) throw error;
      }
    }
  },
  queue: async () => {
    await redis.kill();
    await sleep(300);
    await redis.restart();
  },
};

const killAtRandom = async (progress: { kills: number }) => {
  const random = seeded(SEED);
  const kinds = (Object.keys(NEMESIS) as (keyof typeof NEMESIS)[]).filter((kind) => WITH_REDIS || kind !== 'queue');
  const struck: string[] = [];
  for (; progress.kills < KILLS; progress.kills++) {
    await sleep(100 + 1400 * random.uniform());
    // Each kind in turn at random, so that a short run has all of them.
    const left = kinds.filter(
      (kind) => struck.filter((one) => one === kind).length <= Math.floor(struck.length / kinds.length),
    );
    const kind = left[Math.floor(random.uniform() * left.length)] as keyof typeof NEMESIS;
    struck.push(kind);
    await NEMESIS[kind]();
  }
  console.log(`Killed: ${struck.join(' ')}`);
};

const backlogIsEmpty = async (): Promise<boolean> => {
  const response = await fetch(`${product.url}/api/v1/backlog`, {
    headers: { authorization: `Bearer ${product.adminToken}` },
  }).catch(() => null);
  return response?.ok === true && ((await response.json()) as { scans: number }).scans === 0;
};

const applyFleet = async () => {
  const response = await fetch(`${product.url}/api/v1/fleet`, {
    method: 'PUT',
    headers: { authorization: `Bearer ${product.adminToken}`, 'content-type': 'application/json' },
    body: JSON.stringify(fleetOf(stories)),
  });
  expect(response.status, await response.text()).toBe(200);
};

/** What the same scans give when nothing fails. */
const withoutFaults = async () => {
  const calmUrl = withDatabase(cluster.url, 'calm');
  const admin = openDatabase(cluster.url, { applicationName: 'test', log: quiet });
  await admin.sql.unsafe('create database calm');
  await admin.close();
  await migrateDatabase(calmUrl, quiet);
  const database = openDatabase(calmUrl, { applicationName: 'test', log: quiet });
  await storeFleet(database.sql, fleetOf(stories));
  const shop = openWorkshop({ database, science: makeScience(), log: quiet, stopping: () => false });
  for (const [chamber, scans] of histories) {
    await accept(database.sql, { chamber, scans });
    while (await analyseChamber(shop, chamber));
  }
  const stored = await whatIsStored(database);
  await database.close();
  return stored;
};

test(
  'what was acknowledged is there once and is analysed once, whatever is killed',
  async () => {
    product = await startProduct({ databaseUrl: cluster.url, redisUrl: WITH_REDIS ? redis.url : null, workers: 2 });
    await applyFleet();
    const progress = { kills: 0 };
    const batches = [...histories.values()].reduce((sum, scans) => sum + scans.length, 0) / 6.5;
    let sent = 0;
    // The sending keeps pace with the killing: neither is over long before the other.
    const pace = async () => {
      sent++;
      while (!done && sent / batches > (progress.kills + 1) / KILLS) await sleep(20);
    };
    await Promise.all([
      killAtRandom(progress).finally(() => {
        done = true;
      }),
      ...stories.map((story) => gateway(story, pace)),
    ]);
    await product.ready();
    while (!(await backlogIsEmpty())) await sleep(200);
    expect(await product.stop(), product.output()).toEqual([0, 0, 0]);

    const database = openDatabase(cluster.url, { applicationName: 'test', log: quiet });
    const { sql } = database;
    const scans = await sql<{ analyser: string; scan_id: string; n: number }[]>`
    select analyser, scan_id, count(*)::int as n from scans group by 1, 2`;
    expect(new Set(scans.map((row) => `${row.analyser} ${row.scan_id}`))).toEqual(new Set(acknowledged.keys()));
    expect(scans.filter(({ n }) => n !== 1)).toEqual([]);
    expect(
      await sql`
    select s.analyser, s.scan_id, count(r.scan_id)::int as n from scans s
    left join readings r using (chamber, analyser, scan_id) group by 1, 2 having count(r.scan_id) <> 1`,
    ).toEqual([]);
    expect(await sql`select 1 from outstanding_scans`).toHaveLength(0);
    expect(
      await sql`
    select chamber, signature from alerts where state <> 'normal' group by 1, 2 having count(*) > 1`,
    ).toEqual([]);

    const stored = await whatIsStored(database);
    // The clock adds silence of its own to a history that ended long ago.
    const bySpectrum = ({ signature }: { signature?: string }) => signature !== 'silent';
    const silent = new Set(stored.alerts.filter((row) => !bySpectrum(row)).map((row) => row.id));
    const calm = await withoutFaults();
    expect(calm.alerts.length).toBeGreaterThan(0);
    expect(stored.alerts.filter(bySpectrum)).toEqual(calm.alerts);
    expect(stored.moves.filter((row) => !silent.has(row.alert))).toEqual(calm.moves);
    for (const part of ['readings', 'latest', 'states', 'baselines', 'memories'] as const) {
      expect(stored[part], part).toEqual(calm[part]);
    }
    await database.close();
  },
  PATIENCE_MS,
);
