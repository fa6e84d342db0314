/**
 * Sessions of people, and of displays that have signed in with a token, kept in PostgreSQL so that they can be ended:
 * a random cookie, of which only the hash is stored.
 */
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Sql } from 'postgres';
import type { Role } from '../shared/contract/words.ts';
import { EVENT_CHANNEL, type StoredEvent } from '../shared/db/events.ts';
import { newSecret, sha256Hex } from './secrets.ts';

export const SESSION_COOKIE = 'ullage_session';
/** Without a request for so long, a person's session is over: somebody has left the desk. */
export const IDLE_MINUTES = 60;
/** The longest shift. */
export const LONGEST_HOURS = 12;
/** Nobody sits at a display: its session lasts as long as its token. Browsers keep no cookie longer than 400 days. */
const DISPLAY_DAYS = 400;
/** A session is marked as used at most this often, so that reading costs no writes. */
const SEEN_EVERY_SECONDS = 60;

export interface SessionRow {
  /** Null: of a token. */
  login: string | null;
  /** Null: of a person. */
  token: string | null;
  name: string;
  role: Role;
}

const displayEnds = (now: Date): Date => new Date(now.getTime() + DISPLAY_DAYS * 86_400_000);

const markSeen = async (sql: Sql, { login, token }: SessionRow, hash: string, now: Date): Promise<void> => {
  if (token === null)
    await sql`
      with seen as (update sessions set seen_at = ${now} where hash = ${hash})
      update people set last_seen_at = ${now} where login = ${login}`;
  else
    await sql`
      with seen as (update sessions set seen_at = ${now}, expires_at = ${displayEnds(now)} where hash = ${hash})
      update tokens set last_used_at = ${now} where id = ${token}`;
};

export const findSession = async (sql: Sql, cookie: string, now: Date): Promise<SessionRow | null> => {
  const hash = sha256Hex(cookie);
  const idleSince = new Date(now.getTime() - IDLE_MINUTES * 60_000);
  const [row] = await sql<(SessionRow & { seen_at: Date })[]>`
    select s.seen_at, s.login, s.token, coalesce(p.name, t.name) as name, coalesce(p.role, t.role) as role
    from sessions s
      left join people p on p.login = s.login and p.retired_at is null
      left join tokens t on t.id = s.token and t.revoked_at is null
    where s.hash = ${hash} and s.expires_at > ${now}
      and ((p.login is not null and s.seen_at > ${idleSince}) or t.id is not null)`;
  if (!row) return null;
  const { seen_at: seenAt, ...session } = row;
  if (now.getTime() - seenAt.getTime() > SEEN_EVERY_SECONDS * 1000) await markSeen(sql, session, hash, now);
  return session;
};

/** Who a session is for. */
export type Holder = { readonly login: string } | { readonly token: string };

export const giveCookie = (request: FastifyRequest, reply: FastifyReply, cookie: string, holder: Holder): void => {
  reply.setCookie(SESSION_COOKIE, cookie, {
    path: '/',
    httpOnly: true,
    // Lax, not Strict: a link in a ticket must find the reader signed in.
    sameSite: 'lax',
    secure: request.protocol === 'https',
    maxAge: 'token' in holder ? DISPLAY_DAYS * 86_400 : LONGEST_HOURS * 3600,
  });
};

/** Starts a session and gives its cookie to the answer. */
export const startSession = async (
  sql: Sql,
  options: { holder: Holder; now: Date; request: FastifyRequest; reply: FastifyReply },
): Promise<void> => {
  const { holder, now, request, reply } = options;
  const cookie = newSecret();
  const hash = sha256Hex(cookie);
  if ('token' in holder)
    await sql`
      with used as (update tokens set last_used_at = ${now} where id = ${holder.token})
      insert into sessions (hash, token, created_at, seen_at, expires_at)
      values (${hash}, ${holder.token}, ${now}, ${now}, ${displayEnds(now)})`;
  else
    await sql`
      with seen as (update people set last_seen_at = ${now} where login = ${holder.login})
      insert into sessions (hash, login, created_at, seen_at, expires_at)
      values (${hash}, ${holder.login}, ${now}, ${now}, ${new Date(now.getTime() + LONGEST_HOURS * 3_600_000)})`;
  giveCookie(request, reply, cookie, holder);
};

/** Tells every server to ask again whether those who listen as this person or token still may. */
export const tellAccess = (sql: Sql, who: { login?: string | null; token?: string | null }) => {
  const event: StoredEvent = { event: 'access', login: who.login ?? null, token: who.token ?? null };
  return sql`select pg_notify(${EVENT_CHANNEL}, ${JSON.stringify(event)})`;
};

export const endSession = async (sql: Sql, hash: string): Promise<void> => {
  const [ended] = await sql<{ login: string | null; token: string | null }[]>`
    delete from sessions where hash = ${hash} returning login, token`;
  if (ended) await tellAccess(sql, ended);
};
