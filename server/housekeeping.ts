/** What nobody needs any more is taken away: ended sessions, used links, old rejects. */
import type { Database } from '../shared/db/connect.ts';
import type { Log } from '../shared/log.ts';
import { IDLE_MINUTES } from './sessions.ts';

const EVERY_MS = 10 * 60_000;
/** A gateway that sends nonsense is mended within weeks, or nobody reads what it sent. */
const REJECTS_DAYS = 90;
/** A gateway gone wild must not fill the disk: beyond so many the oldest go. */
const MOST_REJECTS = 100_000;
/** Peaks of an earlier scan that somebody looked at: worked out again in a moment when they are asked for again. */
const SPECTRA_HOURS = 24;

export const tidy = async ({ sql }: Pick<Database, 'sql'>, now: Date): Promise<void> => {
  const idleSince = new Date(now.getTime() - IDLE_MINUTES * 60_000);
  await sql`delete from sessions where expires_at < ${now} or (token is null and seen_at < ${idleSince})`;
  await sql`delete from set_up_keys where expires_at < ${now}`;
  await sql`delete from rejects where received_at < ${new Date(now.getTime() - REJECTS_DAYS * 86_400_000)}`;
  await sql`
    delete from rejects where id <= (select id from rejects order by id desc offset ${MOST_REJECTS} limit 1)`;
  await sql`delete from tasks where kind = 'spectrum' and asked_at < ${new Date(now.getTime() - SPECTRA_HOURS * 3_600_000)}`;
};

export const keepHouse = (db: Database, now: () => Date, log: Log): { stop: () => void } => {
  const timer = setInterval(() => {
    tidy(db, now()).catch((error: unknown) => log.warn({ error }, 'Tidying failed; tried again later'));
  }, EVERY_MS);
  timer.unref();
  return { stop: () => clearInterval(timer) };
};
