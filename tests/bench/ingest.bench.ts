/**
 * Durable ingest: scans posted over HTTP until each has its reading, with analysis, watch and settings as shipped, as a
 * share of raw COPY of the same scans into one indexed table of the same cluster, in the same run.
 *
 * Anchor: COPY … FROM STDIN (FORMAT binary) through a unix socket, the fastest way that PostgreSQL offers a client.
 * BENCH_SCANS=… BENCH_WORKERS=… change the load; it is bounded and stays on this machine.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { setTimeout as sleep } from 'node:timers/promises';
import { findBinaries } from '../../server/start/binaries.ts';
import { startCluster } from '../../server/start/cluster.ts';
import { chooseServant } from '../../server/start/servant.ts';
import type { Scan } from '../../shared/contract/scans.ts';
import { type Database, openDatabase } from '../../shared/db/connect.ts';
import { migrateDatabase } from '../../shared/db/migrate.ts';
import { makeLog } from '../../shared/log.ts';
import { migrateQueue } from '../../shared/queues.ts';
import { type Product, startProduct } from '../support/productProcesses.ts';
import { STORIES } from '../support/strangerFleet.ts';
import { fleetOf, type Stranger, scansOf } from '../support/strangers.ts';

const SCANS = Number(process.env.BENCH_SCANS ?? 20_000);
const WORKERS = Number(process.env.BENCH_WORKERS ?? 1);
const CHAMBERS = 200;
const SCANS_PER_REQUEST = 100;
const SENDERS = 4;
const COPY_ROUNDS = 3;

const log = makeLog({ process: 'bench', level: 'warn' });

/** Chambers of all kinds that send bars; each story stands for several. */
const strangers: Stranger[] = Array.from({ length: CHAMBERS }, (_, i) => {
  const story = STORIES.filter(({ perUnit }) => perUnit === undefined)[i % 16] as Stranger;
  return { ...story, id: `${story.id}-${i}`, seed: 1000 + i };
});

/** In the order of time over the whole fleet, as a gateway would send it. */
const fleetHistory = (): Scan[] => {
  const perChamber = SCANS / CHAMBERS;
  const endMs = Math.floor(Date.now() / 1000) * 1000 - 30_000;
  return strangers
    .flatMap((stranger) => scansOf(stranger, { endMs, minutes: perChamber - 1, periodSeconds: 60 }) as Scan[])
    .sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.analyser < b.analyser ? -1 : 1))
    .slice(0, SCANS);
};

/** One row of binary COPY (PostgreSQL documentation, COPY, "Binary Format"): text, timestamptz, text, bytea. */
const copyRow = (scan: Scan): Buffer => {
  const text = (value: string) => Buffer.from(value);
  const at = Buffer.alloc(8);
  // Microseconds since 2000-01-01.
  at.writeBigInt64BE(BigInt(Date.parse(scan.at) - Date.UTC(2000, 0, 1)) * 1000n);
  const values = Buffer.alloc(scan.values.length * 8);
  for (const [i, value] of scan.values.entries()) values.writeDoubleLE(value ?? Number.NaN, i * 8);
  const fields = [text(scan.analyser), at, text(scan.id), values];
  const head = Buffer.alloc(2);
  head.writeInt16BE(fields.length);
  const sized = fields.flatMap((field) => {
    const length = Buffer.alloc(4);
    length.writeInt32BE(field.length);
    return [length, field];
  });
  return Buffer.concat([head, ...sized]);
};

const COPY_HEAD = Buffer.concat([Buffer.from('PGCOPY\n\xff\r\n\0', 'latin1'), Buffer.alloc(8)]);
const COPY_END = Buffer.from([0xff, 0xff]);

const rate = (scans: number, beganMs: number): number => scans / ((performance.now() - beganMs) / 1000);

/** @returns scans per second, median of the rounds */
const copyRate = async ({ sql }: Database, scans: readonly Scan[]): Promise<number> => {
  const rows = scans.map(copyRow);
  const chunks: Buffer[] = [COPY_HEAD];
  for (let i = 0; i < rows.length; i += 500) chunks.push(Buffer.concat(rows.slice(i, i + 500)));
  const rates: number[] = [];
  for (let round = 0; round < COPY_ROUNDS; round++) {
    await sql`create table copied (analyser text, at timestamptz, scan_id text, "values" bytea,
      primary key (analyser, at, scan_id))`;
    const began = performance.now();
    const into = await sql`copy copied from stdin (format binary)`.writable();
    await pipeline(Readable.from([...chunks, COPY_END]), into);
    rates.push(rate(scans.length, began));
    const [count] = await sql`select count(*)::int as n from copied`;
    if (count?.n !== scans.length) throw new Error(`COPY stored ${count?.n} of ${scans.length} scans`);
    await sql`drop table copied`;
  }
  return rates.sort((a, b) => a - b)[Math.floor(COPY_ROUNDS / 2)] as number;
};

const post = async (product: Product, body: string): Promise<void> => {
  for (;;) {
    const response = await fetch(`${product.url}/api/v1/scans`, {
      method: 'POST',
      headers: { authorization: `Bearer ${product.adminToken}`, 'content-type': 'application/json' },
      body,
    });
    if (response.ok) return void (await response.arrayBuffer());
    if (response.status !== 429 && response.status !== 503) throw new Error(await response.text());
    await sleep(1000 * Number(response.headers.get('retry-after') ?? 1));
  }
};

interface Rates {
  acknowledged: number;
  analysed: number;
}

const ingestRates = async (product: Product, database: Database, scans: readonly Scan[]): Promise<Rates> => {
  const bodies: string[] = [];
  for (let i = 0; i < scans.length; i += SCANS_PER_REQUEST)
    bodies.push(JSON.stringify({ scans: scans.slice(i, i + SCANS_PER_REQUEST) }));
  const fleet = await fetch(`${product.url}/api/v1/fleet`, {
    method: 'PUT',
    headers: { authorization: `Bearer ${product.adminToken}`, 'content-type': 'application/json' },
    body: JSON.stringify(fleetOf(strangers)),
  });
  if (!fleet.ok) throw new Error(await fleet.text());
  const began = performance.now();
  let next = 0;
  const sender = async () => {
    for (let body = bodies[next++]; body; body = bodies[next++]) await post(product, body);
  };
  await Promise.all(Array.from({ length: SENDERS }, sender));
  const acknowledged = rate(scans.length, began);
  while ((await database.sql`select 1 from outstanding_scans limit 1`).length > 0) await sleep(20);
  const analysed = rate(scans.length, began);
  const [count] = await database.sql`select count(*)::int as n from readings where estimates is not null`;
  if (count?.n !== scans.length) throw new Error(`${count?.n} of ${scans.length} scans have a reading`);
  return { acknowledged, analysed };
};

const dataDir = mkdtempSync(join(tmpdir(), 'ullage-bench-'));
const binaries = findBinaries(resolve(import.meta.dirname, '../..'));
if (binaries === null) throw new Error('No PostgreSQL to measure with');
const cluster = await startCluster({ dataDir, binaries, servant: chooseServant() });
let product: Product | undefined;
try {
  const databaseUrl = cluster.url('ullage');
  const admin = openDatabase(cluster.url('postgres'), { applicationName: 'bench', log });
  await admin.sql.unsafe('create database ullage');
  await admin.close();
  await migrateDatabase(databaseUrl, log);
  await migrateQueue(databaseUrl);
  const database = openDatabase(databaseUrl, { applicationName: 'bench', log });
  const scans = fleetHistory();
  const copy = await copyRate(database, scans);
  product = await startProduct({ databaseUrl, workers: WORKERS });
  const { acknowledged, analysed } = await ingestRates(product, database, scans);
  const share = (100 * analysed) / copy;
  console.log(
    [
      `ingest: ${scans.length} scans of ${CHAMBERS} chambers, ${WORKERS} worker process(es)`,
      `  raw COPY                 ${copy.toFixed(0).padStart(8)} scans/s   1`,
      `  posted and acknowledged  ${acknowledged.toFixed(0).padStart(8)} scans/s   ${(acknowledged / copy).toFixed(4)}`,
      `  posted and analysed      ${analysed.toFixed(0).padStart(8)} scans/s   ${(analysed / copy).toFixed(4)}  (${share.toFixed(2)} % of COPY)`,
    ].join('\n'),
  );
  await database.close();
} finally {
  await product?.stop();
  await cluster.stop();
  rmSync(dataDir, { recursive: true, force: true });
}
