/** Settings → database → queue → app → listen; SIGTERM closes in reverse. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { openDatabase } from '../shared/db/connect.ts';
import { makeLog } from '../shared/log.ts';
import { openNudges } from '../shared/queues.ts';
import { readSettings } from '../shared/settings.ts';
import { buildApp } from './app.ts';
import { keepHouse } from './housekeeping.ts';

const file = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const { version } = JSON.parse(readFileSync(file('../package.json'), 'utf8')) as { version: string };
/** After this the process ends whatever is still open; what was answered 2xx is committed. */
const LONGEST_CLOSE_MS = 8_000;

const settings = readSettings(process.env);
const log = makeLog({ process: 'server', level: settings.logLevel });
if (settings.databaseUrl === null) throw new Error('DATABASE_URL is not set: start the whole product with "npm start"');

const db = openDatabase(settings.databaseUrl, { applicationName: 'ullage-server', log });
const nudges = await openNudges({ databaseUrl: settings.databaseUrl, redisUrl: settings.redisUrl, log });
const app = await buildApp({
  db,
  nudge: nudges.nudge,
  queueAnswers: async () => void (await nudges.check()),
  queueDepth: nudges.check,
  dataDir: settings.dataDir,
  now: () => new Date(),
  log,
  settings,
  version,
  webRoot: file('../web/dist'),
});
const house = keepHouse(db, () => new Date(), log);
const address = await app.listen({ host: settings.host, port: settings.port });
log.info({ address }, 'The server answers');

let closing = false;
const close = async (signal: string): Promise<void> => {
  if (closing) return;
  closing = true;
  log.info({ signal }, 'The server closes');
  setTimeout(() => process.exit(1), LONGEST_CLOSE_MS).unref();
  house.stop();
  await app.close();
  await nudges.close();
  await db.close();
  process.exit(0);
};
process.on('SIGTERM', (signal) => void close(signal));
process.on('SIGINT', (signal) => void close(signal));
