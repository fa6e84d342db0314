/**
 * Scans and readings lie in one partition per month (UTC) of their time. A gateway may deliver years of history, so
 * the months are made when first asked for: by whoever is about to write, before it writes.
 */
import type { Sql } from 'postgres';

/** Months known to exist, per client. A partition is never taken away while the product runs. */
const known = new WeakMap<object, Set<number>>();

/** Months since year 0. */
function monthOf(ms: number): number {
  const time = new Date(ms);
  return time.getUTCFullYear() * 12 + time.getUTCMonth();
}

/** 15th of the month, noon UTC: any instant inside stands for the month. */
function inside(month: number): Date {
  const time = new Date(Date.UTC(2000, month % 12, 15, 12));
  time.setUTCFullYear(Math.floor(month / 12));
  return time;
}

/**
 * Makes the partitions that hold these instants (ms since 1970). Any number of processes may ask at once. Call it
 * outside a transaction: the lock it takes lasts to the end of one.
 */
export async function ensurePartitionsFor(sql: Sql, timesMs: Iterable<number>): Promise<void> {
  const months = known.get(sql) ?? new Set<number>();
  known.set(sql, months);
  const missing = new Set<number>();
  for (const ms of timesMs) {
    const month = monthOf(ms);
    if (!months.has(month)) missing.add(month);
  }
  if (missing.size === 0) return;
  await sql`select ensure_partitions(${[...missing].map((month) => inside(month).toISOString())}::timestamptz[])`;
  for (const month of missing) months.add(month);
}

/** Makes every partition from the month of one instant to the month of another, both included (ms since 1970). */
export async function ensurePartitions(sql: Sql, fromMs: number, toMs: number): Promise<void> {
  const first = monthOf(fromMs);
  const count = monthOf(toMs) - first + 1;
  await ensurePartitionsFor(
    sql,
    Array.from({ length: count }, (_, i) => inside(first + i).getTime()),
  );
}
