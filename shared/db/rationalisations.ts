/**
 * Which rationalisation record is in force for a kind of chamber: the newest of that kind, else the newest for every kind,
 * else the one that the product brings. Versions of one signature are counted over all kinds, so that a signature and a
 * version name one record.
 */
import type { Sql } from 'postgres';
import { BUILT_IN_RATIONALISATION } from '../catalogue/rationalisation.ts';
import type { Rationalisation, RationalisationRecord } from '../contract/rationalisation.ts';
import { SIGNATURES, type Signature } from '../contract/words.ts';
import type { Transaction } from './connect.ts';
import { RATIONALISATION_LOCK } from './locks.ts';

export interface RationalisationRow {
  readonly signature: Signature;
  /** '': every kind without a record of its own. */
  readonly kind: string;
  readonly version: number;
  readonly record: RationalisationRecord;
  readonly note: string;
  readonly setAt: Date;
  readonly setBy: string;
}

const COLUMNS = (sql: Sql | Transaction) =>
  sql`signature, kind, version, record, note, set_at as "setAt", set_by as "setBy"`;

export const rationalisationOf = (row: RationalisationRow): Rationalisation => ({
  signature: row.signature,
  kind: row.kind === '' ? null : row.kind,
  version: row.version,
  record: row.record,
  setAt: row.setAt.toISOString(),
  setBy: row.setBy,
  note: row.note,
});

export type RecordsInForce = Readonly<Record<Signature, Rationalisation>>;

/** The newest row of each signature for the kind and for every kind. */
const readNewest = (sql: Sql | Transaction, kind: string | null) => sql<RationalisationRow[]>`
  select distinct on (signature, kind) ${COLUMNS(sql)} from rationalisations
  where kind = '' or kind = ${kind ?? ''} order by signature, kind, version desc`;

type Whose = Pick<RationalisationRow, 'signature' | 'kind'>;

/** @param rows at most one per signature and kind, of one kind and of every kind */
export const rowsInForce = <R extends Whose>(rows: readonly R[]): ReadonlyMap<Signature, R> =>
  new Map([...rows].sort((a, b) => Number(a.kind !== '') - Number(b.kind !== '')).map((row) => [row.signature, row]));

const inForceOf = (rows: readonly RationalisationRow[]): RecordsInForce => {
  const written = rowsInForce(rows);
  return Object.fromEntries(
    SIGNATURES.map((signature) => {
      const row = written.get(signature);
      return [signature, row ? rationalisationOf(row) : BUILT_IN_RATIONALISATION[signature]];
    }),
  ) as unknown as RecordsInForce;
};

/** A record for every signature. */
export const readInForceFor = async (sql: Sql | Transaction, kind: string | null): Promise<RecordsInForce> =>
  inForceOf(await readNewest(sql, kind));

/**
 * Every version that was ever in force for the kind, newest first; the last is the built-in one. Those for every kind
 * count until the kind has one of its own.
 */
export const readVersions = async (
  sql: Sql,
  asked: { signature: Signature; kind: string | null },
): Promise<Rationalisation[]> => {
  const rows = await sql<RationalisationRow[]>`
    select ${COLUMNS(sql)} from rationalisations
    where signature = ${asked.signature} and (kind = ${asked.kind ?? ''} or (kind = '' and version < coalesce(
      (select min(version) from rationalisations where signature = ${asked.signature} and kind = ${asked.kind ?? ''}),
      2147483647))) order by version desc`;
  return [...rows.map(rationalisationOf), BUILT_IN_RATIONALISATION[asked.signature]];
};

/** Null: there is no such version. */
export const readVersion = async (sql: Sql, signature: Signature, version: number): Promise<Rationalisation | null> => {
  if (version === 0) return BUILT_IN_RATIONALISATION[signature];
  const [row] = await sql<RationalisationRow[]>`
    select ${COLUMNS(sql)} from rationalisations where signature = ${signature} and version = ${version}`;
  return row ? rationalisationOf(row) : null;
};

export interface NewVersion {
  readonly signature: Signature;
  readonly kind: string | null;
  /** The version that was looked at. */
  readonly basedOn: number;
  readonly record: RationalisationRecord;
  readonly note: string;
  readonly at: Date;
  readonly by: string;
}

/** @returns the record that is in force now, or the one that stands in its way */
export const writeVersion = async (
  tx: Transaction,
  asked: NewVersion,
): Promise<{ written: Rationalisation } | { inForce: Rationalisation }> => {
  // Of two engineers who write at once, the second is judged by what the first has made of it.
  await tx`select pg_advisory_xact_lock(${RATIONALISATION_LOCK})`;
  const inForce = (await readInForceFor(tx, asked.kind))[asked.signature];
  if (inForce.version !== asked.basedOn) return { inForce };
  const [row] = await tx<RationalisationRow[]>`
    insert into rationalisations (signature, kind, version, record, note, set_at, set_by)
    select ${asked.signature}, ${asked.kind ?? ''}, coalesce(max(version), 0) + 1, ${tx.json(asked.record as never)}::jsonb,
      ${asked.note}, ${asked.at}, ${asked.by}
    from rationalisations where signature = ${asked.signature}
    returning ${COLUMNS(tx)}`;
  return { written: rationalisationOf(row as RationalisationRow) };
};
