/**
 * Whose turn it is to sweep, and how long nobody did.
 *
 * A row with an end instead of an advisory lock: a lock that lasts from sweep to sweep lives in one connection, which
 * the pool may close, and nobody would notice. The row also tells, after a restart, how long the product was away.
 */
import type { Sql } from 'postgres';

/** Two sweeps missed, and another process takes the turn. */
const TURN_LASTS_MS = 12_000;
/** Sweeps further apart than this mean that we were away. */
const OUTAGE_MS = 30_000;
/** Senders that found nobody try again at growing intervals, commonly up to some minutes. */
const LONGEST_GRACE_MS = 5 * 60_000;

export interface Turn {
  /**
   * After an outage of ours the gateways first send what they have kept: until then a missing scan is ours to blame.
   * The grace is as long as the outage, within `LONGEST_GRACE_MS`.
   */
  readonly silenceFrom: Date;
}

interface Value {
  by: string;
  sweptAt: string;
  silenceFrom: string;
}

/** @returns null when another process has the turn */
export const takeSweepTurn = async (sql: Sql, asked: { who: string; now: Date }): Promise<Turn | null> => {
  const nowMs = asked.now.getTime();
  const [row] = await sql<{ value: Value }[]>`select value from settings where key = 'sweep-turn'`;
  const sweptAtMs = row ? Date.parse(row.value.sweptAt) : nowMs;
  if (row && row.value.by !== asked.who && nowMs - sweptAtMs < TURN_LASTS_MS) return null;
  const awayMs = nowMs - sweptAtMs;
  const graceMs = awayMs > OUTAGE_MS ? Math.min(awayMs, LONGEST_GRACE_MS) : 0;
  const promisedMs = row ? Date.parse(row.value.silenceFrom) : 0;
  const silenceFrom = new Date(Math.max(nowMs + graceMs, promisedMs));
  const next: Value = { by: asked.who, sweptAt: asked.now.toISOString(), silenceFrom: silenceFrom.toISOString() };
  // Two that found the turn free write one after the other: the second no longer finds what it has read.
  const taken = await sql`
    insert into settings as s (key, value) values ('sweep-turn', ${sql.json({ ...next })})
    on conflict (key) do update set value = excluded.value where s.value ->> 'sweptAt' = ${row?.value.sweptAt ?? ''}
    returning key`;
  return taken.length === 1 ? { silenceFrom } : null;
};
