/**
 * The fleet as it stands: read as the document that was applied, and changed by the next one. What is missing from a
 * document is retired, never deleted; what comes back is taken up again with its history.
 */
import type { Sql } from 'postgres';
import type { Analyser, Area, Chamber, FleetChange, FleetDocument } from '../contract/fleet.ts';
import type { Static } from '../contract/schema.ts';
import type { Transaction } from './connect.ts';
import { FLEET_LOCK } from './locks.ts';

type Change = Static<typeof FleetChange>;
type Part = 'areas' | 'chambers' | 'analysers';

interface Stored {
  id: string;
  position: number;
  document: Record<string, unknown>;
  retired: boolean;
}

const FIELDS: Record<Part, readonly string[]> = {
  areas: ['id', 'name', 'timeZone', 'shifts'],
  chambers: ['id', 'name', 'area', 'kind', 'volumeLitres', 'pumpingSpeedLitresPerSecond', 'gases', 'tags'],
  analysers: [
    'id',
    'chamber',
    'principle',
    'massRange',
    'sensitivityAmperesPerPascal',
    'multiplierGain',
    'transmissionExponent',
  ],
};

/** jsonb forgets the order of keys; the document comes back in the order in which it is described. */
const inOrder = (part: Part, document: Record<string, unknown>): Record<string, unknown> =>
  Object.fromEntries(FIELDS[part].filter((field) => field in document).map((field) => [field, document[field]]));

const sortedKeys = (value: unknown): unknown => {
  if (Array.isArray(value)) return value.map(sortedKeys);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, one]) => [key, sortedKeys(one)]),
  );
};
const sameContent = (a: unknown, b: unknown): boolean =>
  JSON.stringify(sortedKeys(a)) === JSON.stringify(sortedKeys(b));

const readPart = (sql: Sql | Transaction, part: Part) =>
  sql<Stored[]>`
    select id, position, document, retired_at is not null as retired from ${sql(part)} order by position, id`;

export const readFleet = async (sql: Sql): Promise<FleetDocument> => {
  const [areas, chambers, analysers] = await Promise.all([
    readPart(sql, 'areas'),
    readPart(sql, 'chambers'),
    readPart(sql, 'analysers'),
  ]);
  const present = (part: Part, rows: readonly Stored[]) =>
    rows.filter((row) => !row.retired).map((row) => inOrder(part, row.document));
  return {
    areas: present('areas', areas),
    chambers: present('chambers', chambers),
    analysers: present('analysers', analysers),
  } as unknown as FleetDocument;
};

interface PartChange {
  added: string[];
  changed: string[];
  retired: string[];
  /** Only the place in the list differs. */
  moved: string[];
}

const compare = (stored: readonly Stored[], wanted: readonly { id: string }[]): PartChange => {
  const now = new Map(stored.map((row) => [row.id, row]));
  const change: PartChange = { added: [], changed: [], retired: [], moved: [] };
  wanted.forEach((one, position) => {
    const row = now.get(one.id);
    if (row === undefined || row.retired) change.added.push(one.id);
    else if (!sameContent(row.document, one)) change.changed.push(one.id);
    else if (row.position !== position) change.moved.push(one.id);
  });
  const kept = new Set(wanted.map(({ id }) => id));
  change.retired = stored.filter((row) => !row.retired && !kept.has(row.id)).map(({ id }) => id);
  return change;
};

/** An analyser that the document puts into another chamber: its history belongs to the first. */
export interface MovedAnalyser {
  index: number;
  id: string;
  from: string;
  to: string;
}

const writeAreas = (tx: Transaction, rows: readonly Area[], position: (id: string) => number) => tx`
  insert into areas (id, name, time_zone, shifts, position, document)
  select id, coalesce(d ->> 'name', id), coalesce(d ->> 'timeZone', 'UTC'),
    array(select jsonb_array_elements_text(coalesce(d -> 'shifts', '[]'))), position, d
  from (select id, document::jsonb as d, position from unnest(${rows.map((r) => r.id)}::text[],
    ${rows.map((r) => JSON.stringify(r))}::text[], ${rows.map((r) => position(r.id))}::int[]) as t (id, document, position)) as new
  on conflict (id) do update set name = excluded.name, time_zone = excluded.time_zone, shifts = excluded.shifts,
    position = excluded.position, document = excluded.document, retired_at = null`;

const writeChambers = (tx: Transaction, rows: readonly Chamber[], position: (id: string) => number) => tx`
  insert into chambers (id, name, area, kind, position, document)
  select id, coalesce(d ->> 'name', id), d ->> 'area', d ->> 'kind', position, d
  from (select id, document::jsonb as d, position from unnest(${rows.map((r) => r.id)}::text[],
    ${rows.map((r) => JSON.stringify(r))}::text[], ${rows.map((r) => position(r.id))}::int[]) as t (id, document, position)) as new
  on conflict (id) do update set name = excluded.name, area = excluded.area, kind = excluded.kind,
    position = excluded.position, document = excluded.document, retired_at = null`;

const writeAnalysers = (tx: Transaction, rows: readonly Analyser[], position: (id: string) => number) => tx`
  insert into analysers (chamber, id, position, document)
  select d ->> 'chamber', id, position, d
  from (select id, document::jsonb as d, position from unnest(${rows.map((r) => r.id)}::text[],
    ${rows.map((r) => JSON.stringify(r))}::text[], ${rows.map((r) => position(r.id))}::int[]) as t (id, document, position)) as new
  on conflict (chamber, id) do update set position = excluded.position, document = excluded.document, retired_at = null,
    version = analysers.version + case when analysers.document = excluded.document then 0 else 1 end`;

const only = <T extends { id: string }>(items: readonly T[], change: PartChange): T[] => {
  const ids = new Set([...change.added, ...change.changed, ...change.moved]);
  return items.filter(({ id }) => ids.has(id));
};

const positions = (items: readonly { id: string }[]): ((id: string) => number) => {
  const places = new Map(items.map(({ id }, i) => [id, i]));
  return (id) => places.get(id) ?? 0;
};

/**
 * Compares the document with the fleet, and applies it unless `dryRun`. Runs under a lock inside the caller's
 * transaction, which also writes the audit.
 */
export const applyFleet = async (
  tx: Transaction,
  document: FleetDocument,
  options: { dryRun: boolean; at: Date; by: string },
): Promise<{ change: Change; moved: MovedAnalyser[] }> => {
  await tx`select pg_advisory_xact_lock(${FLEET_LOCK})`;
  const stored = {
    areas: await readPart(tx, 'areas'),
    chambers: await readPart(tx, 'chambers'),
    analysers: await readPart(tx, 'analysers'),
  };
  const homes = new Map(stored.analysers.map((row) => [row.id, String(row.document.chamber)]));
  const moved = document.analysers.flatMap(({ id, chamber }, index) => {
    const from = homes.get(id);
    return from !== undefined && from !== chamber ? [{ index, id, from, to: chamber }] : [];
  });
  const parts = {
    areas: compare(stored.areas, document.areas),
    chambers: compare(stored.chambers, document.chambers),
    analysers: compare(stored.analysers, document.analysers),
  };
  const of = (kind: 'added' | 'changed' | 'retired') => ({
    areas: parts.areas[kind],
    chambers: parts.chambers[kind],
    analysers: parts.analysers[kind],
  });
  const differs = Object.values(parts).some((part) => Object.values(part).some((ids) => ids.length > 0));
  const applied = differs && !options.dryRun && moved.length === 0;
  if (applied) await write(tx, document, parts, options);
  return { change: { applied, added: of('added'), changed: of('changed'), retired: of('retired') }, moved };
};

const write = async (
  tx: Transaction,
  document: FleetDocument,
  parts: Record<Part, PartChange>,
  { at, by }: { at: Date; by: string },
): Promise<void> => {
  await writeAreas(tx, only(document.areas, parts.areas), positions(document.areas));
  await writeChambers(tx, only(document.chambers, parts.chambers), positions(document.chambers));
  await writeAnalysers(tx, only(document.analysers, parts.analysers), positions(document.analysers));
  for (const part of ['areas', 'chambers', 'analysers'] as const)
    await tx`update ${tx(part)} set retired_at = ${at} where id = any(${parts[part].retired}::text[])`;
  await tx`
    insert into fleet_versions (document, applied_at, applied_by)
    values (${tx.json(document as never)}, ${at}, ${by})`;
};
