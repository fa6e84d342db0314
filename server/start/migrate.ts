/** `npm run migrate`: brings the database of DATABASE_URL up to date and, on a new one, tells how to come in. */
import { openDatabase } from '../../shared/db/connect.ts';
import { makeLog } from '../../shared/log.ts';
import { readSettings, SettingsError } from '../../shared/settings.ts';
import { addressOf } from './address.ts';
import { firstStartLines } from './firstStart.ts';
import { StartError, say } from './say.ts';
import { bringUpToDate } from './upToDate.ts';

try {
  const settings = readSettings(process.env);
  const log = makeLog({ process: 'migrate', level: settings.logLevel });
  const { databaseUrl } = settings;
  if (databaseUrl === null)
    throw new StartError('DATABASE_URL is not set. "npm start" migrates its own database itself.');
  await bringUpToDate(databaseUrl, log);
  const db = openDatabase(databaseUrl, { applicationName: 'ullage-migrate', maxConnections: 1, log });
  const lines = await firstStartLines(db.sql, {
    address: addressOf(settings),
    ownAdminToken: settings.adminToken !== null,
  });
  await db.close();
  for (const line of lines) say(line);
  say('The database is up to date.');
} catch (error) {
  if (!(error instanceof SettingsError || error instanceof StartError)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 1;
}
