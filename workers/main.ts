/** The worker process: nudges in, readings and alerts out, and the sweep beside them. */
import { randomUUID } from 'node:crypto';
import { hostname } from 'node:os';
import { openDatabase } from '../shared/db/connect.ts';
import { type Log, makeLog } from '../shared/log.ts';
import { openNudges, openNudgeWorker } from '../shared/queues.ts';
import { readSettings } from '../shared/settings.ts';
import { makeChamberTurn } from './chamberTurn.ts';
import { openGate } from './gate.ts';
import { openWorkshop } from './openWorkshop.ts';
import { makeScience } from './science.ts';
import { makeSweep, SWEEP_EVERY_MS } from './sweep.ts';
import { openTurns } from './turns.ts';

/** Chambers in hand at once: the mathematics of one fills the time in which the others wait for the database. */
const CONCURRENCY = 4;
/** The supervisor kills after 10 s. */
const LONGEST_GOODBYE_MS = 8_000;

/** An unforeseen state is not worked on: the supervisor starts a clean process, and the scans are still outstanding. */
const dieOn = (log: Log) => {
  for (const event of ['uncaughtException', 'unhandledRejection'] as const) {
    process.on(event, (error: unknown) => {
      log.error({ error }, 'The worker ends after an error that nobody expected');
      process.exit(1);
    });
  }
};

const start = async () => {
  const settings = readSettings(process.env);
  const log = makeLog({ process: 'workers', level: settings.logLevel });
  dieOn(log);
  if (settings.databaseUrl === null) throw new Error('DATABASE_URL is not set: workers are started by npm start');
  const { databaseUrl, redisUrl } = settings;
  const database = openDatabase(databaseUrl, { applicationName: 'ullage-workers', log });
  const place = { databaseUrl, redisUrl, log };
  const nudges = await openNudges(place);
  let stopping = false;
  const shop = openWorkshop({ database, science: makeScience(), log, stopping: () => stopping });
  const takeTurn = openTurns(makeChamberTurn({ shop, gate: openGate(), nudge: nudges.nudge }));
  const worker = await openNudgeWorker({ ...place, concurrency: CONCURRENCY, handle: takeTurn });
  const sweep = makeSweep({
    database,
    nudge: (chambers) => nudges.nudge(chambers, 'again'),
    now: () => new Date(),
    log,
    who: `${hostname()}/${process.pid}/${randomUUID()}`,
  });
  let sweeping = sweep();
  const timer = setInterval(() => {
    sweeping = sweeping.then(sweep);
  }, SWEEP_EVERY_MS);

  const stop = async () => {
    if (stopping) return;
    stopping = true;
    clearInterval(timer);
    setTimeout(() => process.exit(1), LONGEST_GOODBYE_MS).unref();
    await Promise.allSettled([worker.close(), sweeping]);
    await nudges.close();
    await database.close();
    process.exit(0);
  };
  process.on('SIGTERM', () => void stop());
  process.on('SIGINT', () => void stop());
  log.info({ concurrency: CONCURRENCY }, 'Worker ready');
};

await start();
