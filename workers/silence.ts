/**
 * Raises `silent`, the one alert that the clock decides. It returns with the next scan, in the batch that brings it.
 *
 * Nobody is called silent while scans of the chamber still wait for their reading, nor while its past is being sent in:
 * that a scan has just come says that the analyser and its gateway live, however old the scan is.
 */
import type { Sql } from 'postgres';
import type { Priority } from '../shared/contract/words.ts';
import { alertEvent, readStandingAlerts, tellListeners, writeStandingAlerts } from '../shared/db/alerts.ts';
import type { Database, Transaction } from '../shared/db/connect.ts';
import { judgeSilence, silenceFinding } from '../shared/watch/silence.ts';
import { lockChamber } from './chamberLock.ts';
import { readPractice } from './practice.ts';
import { applyEvents } from './standing.ts';

/** A gateway that sends its past pauses between two requests, seldom for longer than this. */
const AFTER_RECEIPT_MS = 10_000;
/** A fleet that falls silent as one is taken up over several sweeps. */
const MOST_AT_ONCE = 500;
/** A chamber that nobody sees is not known to be well, but nothing is known to be wrong either. */
const PRIORITY: Priority = 'medium';

interface Candidate {
  readonly chamber: string;
  readonly analyser: string;
  readonly at: Date;
  readonly state: string;
  readonly periodSeconds: number | null;
  /** When a person last closed a silence of this analyser that still goes on. */
  readonly closedAt: Date | null;
}

/**
 * Analysers in service whose newest scan is not news any more and for which no silence is open. One row per analyser
 * of the chamber, or of all chambers when `chamber` is null.
 */
const findCandidates = (sql: Sql | Transaction, asked: { chamber: string | null; now: Date }) => sql<Candidate[]>`
  select l.chamber, l.analyser, l.at, l.state, l.scan_period_seconds as "periodSeconds", closed.at as "closedAt"
  from latest l
  join analysers a on a.id = l.analyser and a.chamber = l.chamber and a.retired_at is null
  join chambers c on c.id = l.chamber and c.retired_at is null
  left join lateral (
    select max(s.closed_at) as at from alerts s
    where s.chamber = l.chamber and s.signature = 'silent' and s.state = 'normal' and l.analyser = any(s.held_by)
  ) closed on true
  where (${asked.chamber}::text is null or l.chamber = ${asked.chamber})
    and l.received_at < ${new Date(asked.now.getTime() - AFTER_RECEIPT_MS)}
    and not exists (select 1 from outstanding_scans o where o.chamber = l.chamber)
    and not exists (
      select 1 from alerts s
      where s.chamber = l.chamber and s.signature = 'silent' and s.state <> 'normal' and l.analyser = any(s.held_by)
    )
  order by l.chamber, l.analyser`;

/** Since when the silence counts: a person who closed the alert has it counted anew. */
const raisedAtMs = (candidate: Candidate, allowedSeconds: number): number =>
  Math.max(candidate.at.getTime(), candidate.closedAt?.getTime() ?? 0) + allowedSeconds * 1000;

const judge = (candidate: Candidate, now: Date) => {
  const { state, periodSeconds } = candidate;
  const verdict = judgeSilence({ lastScanAtMs: candidate.at.getTime(), periodSeconds, state, nowMs: now.getTime() });
  const atMs = raisedAtMs(candidate, verdict.allowedSeconds);
  return { verdict, atMs, silent: verdict.silent && atMs <= now.getTime() };
};

/** The watch of silence is this sweep: with the new alert it knows of the closed one. */
const forgetClosed = (tx: Transaction, { chamber, analyser }: Candidate) => tx`
  update alerts set held_by = array_remove(held_by, ${analyser})
  where chamber = ${chamber} and signature = 'silent' and state = 'normal' and ${analyser} = any(held_by)`;

/** Looks again with the chamber locked, because a batch may have come in between. */
const raiseIn = (database: Pick<Database, 'transaction'>, chamber: string, now: Date): Promise<number> =>
  database.transaction(async (tx) => {
    await lockChamber(tx, chamber);
    const candidates = await findCandidates(tx, { chamber, now });
    const silent = candidates.filter((candidate) => judge(candidate, now).silent);
    if (silent.length === 0) return 0;
    const events = silent.map((candidate) => {
      const { verdict, atMs } = judge(candidate, now);
      const finding = silenceFinding(verdict, candidate.periodSeconds);
      const event = { kind: 'raised', atMs, signature: 'silent', gases: [], priority: PRIORITY, finding } as const;
      return { analyser: candidate.analyser, event };
    });
    const [standing, practice] = [await readStandingAlerts(tx, chamber), await readPractice(tx, chamber)];
    const change = applyEvents(chamber, standing, events, practice);
    for (const candidate of silent) await forgetClosed(tx, candidate);
    await writeStandingAlerts(tx, chamber, change);
    await tellListeners(
      tx,
      change.alerts.map((alert) => alertEvent(chamber, alert)),
    );
    return silent.length;
  });

/** @returns how many analysers were found silent */
export const raiseSilence = async (database: Pick<Database, 'sql' | 'transaction'>, now: Date): Promise<number> => {
  const candidates = await findCandidates(database.sql, { chamber: null, now });
  const silent = candidates.filter((candidate) => judge(candidate, now).silent);
  const chambers = [...new Set(silent.map(({ chamber }) => chamber))].slice(0, MOST_AT_ONCE);
  let raised = 0;
  for (const chamber of chambers) raised += await raiseIn(database, chamber, now);
  return raised;
};
