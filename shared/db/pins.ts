/** Baselines that engineers have pinned: versions per chamber, analyser and operating state. A row is never deleted. */
import type { Sql } from 'postgres';
import type { Pin } from '../contract/rehearsal.ts';
import type { OperatingState } from '../contract/words.ts';
import type { BaselinePin, BaselineView } from '../watch/types.ts';
import type { Transaction } from './connect.ts';
import { unpackMemory } from './memory.ts';

export interface PinRow {
  readonly id: string;
  readonly chamber: string;
  readonly analyser: string;
  readonly version: number;
  readonly operatingState: OperatingState;
  readonly scansFrom: Date;
  readonly scansTo: Date;
  readonly note: string;
  readonly state: Pin['state'];
  /** Why it failed. */
  readonly problem: string | null;
  readonly scanCount: number | null;
  readonly setAt: Date;
  readonly setBy: string;
  readonly validFrom: Date | null;
  readonly decidedAt: Date | null;
  readonly decidedBy: string | null;
  readonly decisionNote: string | null;
}

/** With what the worker saw as usual in the period: it lies in the task's result. */
export type PinWithView = PinRow & { readonly view: Pick<BaselineView, 'gases'> | null };

const columns = (sql: Sql | Transaction) => sql`
  p.id, p.chamber, p.analyser, p.version, p.operating_state as "operatingState", p.scans_from as "scansFrom",
  p.scans_to as "scansTo", p.note, p.state, p.problem, p.scan_count as "scanCount", p.set_at as "setAt",
  p.set_by as "setBy", p.valid_from as "validFrom", p.decided_at as "decidedAt", p.decided_by as "decidedBy",
  p.decision_note as "decisionNote"`;

const view = (sql: Sql | Transaction) => sql`
  (select t.result from tasks t where t.chamber = p.chamber and t.analyser = p.analyser and t.kind = 'baseline'
    and t.request ->> 'pin' = p.id and t.state = 'done' limit 1) as view`;

/** All of one analyser, newest first. */
export const listPins = (sql: Sql, analyser: string): Promise<PinWithView[]> => sql<PinWithView[]>`
  select ${columns(sql)}, ${view(sql)} from baseline_pins p where p.analyser = ${analyser}
  order by p.set_at desc, p.version desc, p.id`;

export const readPin = async (sql: Sql, id: string): Promise<PinRow | null> => {
  const [row] = await sql<PinRow[]>`select ${columns(sql)} from baseline_pins p where p.id = ${id}`;
  return row ?? null;
};

export type NewPinRow = Pick<
  PinRow,
  'id' | 'chamber' | 'analyser' | 'operatingState' | 'scansFrom' | 'scansTo' | 'note' | 'setAt' | 'setBy'
>;

/** The row of the analyser is the lock: of two who pin at once, one waits for the other's version. */
export const insertPin = async (tx: Transaction, row: NewPinRow): Promise<PinRow> => {
  await tx`select 1 from analysers where chamber = ${row.chamber} and id = ${row.analyser} for update`;
  const [inserted] = await tx<PinRow[]>`
    insert into baseline_pins as p (chamber, analyser, id, version, operating_state, scans_from, scans_to, note, state,
      set_at, set_by)
    select ${row.chamber}, ${row.analyser}, ${row.id}, coalesce(max(o.version), 0) + 1, ${row.operatingState},
      ${row.scansFrom}, ${row.scansTo}, ${row.note}, 'waiting', ${row.setAt}, ${row.setBy}
    from baseline_pins o
    where o.chamber = ${row.chamber} and o.analyser = ${row.analyser} and o.operating_state = ${row.operatingState}
    returning ${columns(tx)}`;
  return inserted as PinRow;
};

/** What the workers found, proposed to the engineer; one that was withdrawn meanwhile stays so. */
export const proposePin = (
  tx: Transaction,
  id: string,
  found: { readonly baseline: Buffer; readonly scans: number },
) => tx`
  update baseline_pins set state = 'proposed', baseline = ${found.baseline}, scan_count = ${found.scans}
  where id = ${id} and state = 'waiting'`;

export const failPin = (tx: Transaction, id: string, problem: string) => tx`
  update baseline_pins set state = 'failed', problem = ${problem} where id = ${id} and state = 'waiting'`;

export interface PinDecision {
  readonly id: string;
  readonly analyser: string;
  readonly at: Date;
  readonly by: string;
  readonly note: string;
  readonly state: 'in-force' | 'withdrawn';
}

/** What has come into force stays until a later one replaces it: what was judged with it stays judged. */
const BEFORE = { 'in-force': ['proposed'], withdrawn: ['waiting', 'proposed'] };

const replaceOlder = (tx: Transaction, pin: PinRow) => tx`
  update baseline_pins set state = 'replaced'
  where chamber = ${pin.chamber} and analyser = ${pin.analyser} and operating_state = ${pin.operatingState}
    and state = 'in-force' and id <> ${pin.id}`;

/**
 * Takes a decision where the state still allows it. In force: from the instant of the decision on.
 * @returns the row as decided; `refused`, the row as it stands, where it is too late; null: the analyser has none
 */
export const decidePin = async (
  tx: Transaction,
  asked: PinDecision,
): Promise<PinRow | { readonly refused: PinRow } | null> => {
  const { id, analyser, at, by, note, state } = asked;
  await tx`select 1 from analysers where id = ${analyser} for update`;
  const [decided] = await tx<PinRow[]>`
    update baseline_pins p set state = ${state}, decided_at = ${at}, decided_by = ${by}, decision_note = ${note},
      valid_from = ${state === 'in-force' ? at : null}
    where p.id = ${id} and p.analyser = ${analyser} and p.state = any(${BEFORE[state]}::text[])
    returning ${columns(tx)}`;
  if (decided) {
    if (state === 'in-force') await replaceOlder(tx, decided);
    return decided;
  }
  const [stands] = await tx<PinRow[]>`
    select ${columns(tx)} from baseline_pins p where p.id = ${id} and p.analyser = ${analyser}`;
  return stands ? { refused: stands } : null;
};

/** A pin that is or was in force, without what it holds. */
export interface PinMark {
  readonly id: string;
  readonly analyser: string;
  /** ms since 1970. */
  readonly validFromMs: number;
  readonly replaced: boolean;
}

/** One that cannot be read holds nothing: the watch refuses it and says so, and the chamber is watched as before. */
const contentOf = (bytes: Buffer): BaselinePin['baseline'] => {
  try {
    return unpackMemory(bytes);
  } catch {
    return {};
  }
};

/** For the watch: oldest first. */
export const readPinContents = async (sql: Sql, chamber: string, ids: readonly string[]): Promise<BaselinePin[]> => {
  if (ids.length === 0) return [];
  const rows = await sql<{ id: string; state: string; validFrom: Date | null; baseline: Buffer }[]>`
    select id, operating_state as state, valid_from as "validFrom", baseline from baseline_pins
    where chamber = ${chamber} and id = any(${ids as string[]}::text[]) and baseline is not null
    order by valid_from, version, id`;
  return rows.map(({ id, state, validFrom, baseline }) => ({
    id,
    state,
    validFromMs: validFrom?.getTime() ?? 0,
    baseline: contentOf(baseline),
  }));
};

/** All that are or were in force for an analyser, as `readPinContents` gives them. */
export const readPinsEverInForce = async (
  sql: Sql,
  { chamber, analyser }: { chamber: string; analyser: string },
): Promise<BaselinePin[]> => {
  const rows = await sql<{ id: string }[]>`
    select id from baseline_pins where chamber = ${chamber} and analyser = ${analyser}
      and state in ('in-force', 'replaced')`;
  return await readPinContents(
    sql,
    chamber,
    rows.map(({ id }) => id),
  );
};
