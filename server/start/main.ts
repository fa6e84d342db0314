/**
 * The whole product on one machine: settings → database → migrations → server and workers as child processes, watched
 * and started again when they die → one line with the address. SIGTERM ends everything within 10 s.
 */
import { resolve } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { openDatabase } from '../../shared/db/connect.ts';
import { makeLog } from '../../shared/log.ts';
import { checkRedis } from '../../shared/queues.ts';
import { readSettings, type Settings, SettingsError } from '../../shared/settings.ts';
import { addressOf } from './address.ts';
import { prepareExample } from './example.ts';
import { firstStartLines } from './firstStart.ts';
import { keepAlive } from './keepAlive.ts';
import { type OwnDatabase, openOwnDatabase } from './ownDatabase.ts';
import { requirePort } from './port.ts';
import { StartError, say } from './say.ts';
import { type ChildPlan, type Supervisor, supervise } from './supervise.ts';
import { bringUpToDate } from './upToDate.ts';
import './leash.mjs';

const ROOT = resolve(import.meta.dirname, '../..');
/** Of the 10 s that a stop may take: for the processes, then for PostgreSQL. */
const CHILDREN_STOP_MS = 6_500;
const CLUSTER_STOP_MS = 2_500;
/** A server that dies this often before it has answered once will not answer. */
const MOST_EARLY_DEATHS = 5;
/** The example has said that it will not load; see server/demo/main.ts. */
const NOT_AGAIN = 78;

interface Parts {
  own: OwnDatabase | null;
  stopKeeping: () => void;
  supervisor: Supervisor | null;
}

const demo = process.argv.includes('--demo');
const parts: Parts = { own: null, stopKeeping: () => {}, supervisor: null };
let stopping: Promise<void> | null = null;

function stop(): Promise<void> {
  stopping ??= (async () => {
    parts.stopKeeping();
    const { own } = parts;
    await Promise.all([parts.supervisor?.stop(CHILDREN_STOP_MS), own?.checkpoint()]);
    await own?.release();
    await own?.cluster.stop(CLUSTER_STOP_MS);
  })();
  return stopping;
}

for (const signal of ['SIGTERM', 'SIGINT', 'SIGHUP'] as const) {
  process.on(signal, () => {
    if (stopping === null) say('Stopping …');
    // A start that is still under way sees `stopping` at its next step.
    void stop().then(() => process.exit(0));
  });
}

async function run(): Promise<void> {
  if (demo && !process.env.ULLAGE_DATA_DIR) process.env.ULLAGE_DATA_DIR = resolve(ROOT, '.ullage-demo');
  const settings = readSettings(process.env);
  const log = makeLog({ process: 'start', level: settings.logLevel });
  await requirePort(settings.host, settings.port);
  if (settings.redisUrl !== null) await checkRedis(settings.redisUrl, log).catch(unfit);
  if (settings.databaseUrl === null) parts.own = await openOwnDatabase(settings.dataDir, log);
  const databaseUrl = parts.own?.url ?? (settings.databaseUrl as string);
  await bringUpToDate(databaseUrl, log);
  const db = openDatabase(databaseUrl, { applicationName: 'ullage-start', maxConnections: 1, log });
  const demoToken = demo ? await prepareExample(db.sql, settings) : null;
  if (stopping !== null) return;
  if (parts.own !== null) parts.stopKeeping = keepAlive(parts.own, log);
  parts.supervisor = supervise(childPlans(settings, { databaseUrl, demoToken }), { root: ROOT, log, now: Date.now });
  await untilReady(settings);
  if (stopping !== null) return;
  say(`Ullage answers at ${addressOf(settings)}`);
  // Made only now: a token that was made before a start that fails would be shown to nobody.
  const lines = await firstStartLines(db.sql, {
    address: addressOf(settings),
    ownAdminToken: settings.adminToken !== null,
  });
  await db.close();
  for (const line of lines) say(line);
}

const unfit = (error: Error): never => {
  throw new StartError(error.message);
};

function childPlans(settings: Settings, o: { databaseUrl: string; demoToken: string | null }): ChildPlan[] {
  const environment = { ...process.env, DATABASE_URL: o.databaseUrl, ULLAGE_DATA_DIR: settings.dataDir };
  const plans: ChildPlan[] = [{ name: 'server', program: 'server/main.ts', environment }];
  for (let i = 1; i <= settings.workers; i++)
    plans.push({ name: `workers ${i}`, program: 'workers/main.ts', environment });
  if (o.demoToken !== null) {
    // It speaks HTTP like any gateway and has no business with the database.
    const { DATABASE_URL: _1, REDIS_URL: _2, ULLAGE_ADMIN_TOKEN: _3, ...rest } = process.env;
    const demoEnvironment = { ...rest, ULLAGE_DEMO_URL: addressOf(settings), ULLAGE_DEMO_ADMIN_TOKEN: o.demoToken };
    plans.push({
      name: 'example',
      program: 'server/demo/main.ts',
      environment: demoEnvironment,
      finalStatuses: [0, NOT_AGAIN],
    });
  }
  return plans;
}

async function untilReady(settings: Settings): Promise<void> {
  const url = `${addressOf(settings)}/health/ready`;
  while (stopping === null) {
    const ready = await fetch(url, { signal: AbortSignal.timeout(5_000) }).then(
      (answer) => answer.ok,
      () => false,
    );
    if (ready) return;
    if ((parts.supervisor?.deaths('server') ?? 0) >= MOST_EARLY_DEATHS) {
      throw new StartError('The server does not come up; its messages above say why.');
    }
    await sleep(150);
  }
}

try {
  await run();
} catch (error) {
  const known = error instanceof StartError || error instanceof SettingsError;
  process.stderr.write(`${known ? error.message : String((error as Error).stack ?? error)}\n`);
  await stop();
  process.exit(1);
}
