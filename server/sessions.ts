/** Sessions of people, kept in PostgreSQL so that they can be ended: a random cookie, of which only the hash is stored. */
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Sql } from 'postgres';
import type { Role } from '../shared/contract/words.ts';
import { newSecret, sha256Hex } from './secrets.ts';

export const SESSION_COOKIE = 'ullage_session';
/** Without a request for so long, a session is over: somebody has left the desk. */
export const IDLE_MINUTES = 60;
/** The longest shift. */
export const LONGEST_HOURS = 12;
/** A session is marked as used at most this often, so that reading costs no writes. */
const SEEN_EVERY_SECONDS = 60;

export interface SessionRow {
  login: string;
  name: string;
  role: Role;
  hash: string;
}

export const findSession = async (sql: Sql, cookie: string, now: Date): Promise<SessionRow | null> => {
  const hash = sha256Hex(cookie);
  const idleSince = new Date(now.getTime() - IDLE_MINUTES * 60_000);
  const [row] = await sql<(SessionRow & { seen_at: Date })[]>`
    select s.hash, s.seen_at, p.login, p.name, p.role
    from sessions s join people p on p.login = s.login
    where s.hash = ${hash} and s.expires_at > ${now} and s.seen_at > ${idleSince} and p.retired_at is null`;
  if (!row) return null;
  if (now.getTime() - row.seen_at.getTime() > SEEN_EVERY_SECONDS * 1000)
    await sql`
      with seen as (update sessions set seen_at = ${now} where hash = ${hash})
      update people set last_seen_at = ${now} where login = ${row.login}`;
  return { login: row.login, name: row.name, role: row.role, hash };
};

/** Starts a session and gives its cookie to the answer. */
export const startSession = async (
  sql: Sql,
  options: { login: string; now: Date; request: FastifyRequest; reply: FastifyReply },
): Promise<void> => {
  const { login, now, request, reply } = options;
  const cookie = newSecret();
  const expiresAt = new Date(now.getTime() + LONGEST_HOURS * 3_600_000);
  await sql`
    with seen as (update people set last_seen_at = ${now} where login = ${login})
    insert into sessions (hash, login, created_at, seen_at, expires_at)
    values (${sha256Hex(cookie)}, ${login}, ${now}, ${now}, ${expiresAt})`;
  reply.setCookie(SESSION_COOKIE, cookie, {
    path: '/',
    httpOnly: true,
    // Lax, not Strict: a link in a ticket must find the reader signed in.
    sameSite: 'lax',
    secure: request.protocol === 'https',
    maxAge: LONGEST_HOURS * 3600,
  });
};

export const endSession = async (sql: Sql, hash: string): Promise<void> => {
  await sql`delete from sessions where hash = ${hash}`;
};
