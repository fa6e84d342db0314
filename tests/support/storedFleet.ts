/** Fleets and scans put straight into a database, for tests of what happens after they were accepted. */
import { createHash } from 'node:crypto';
import type { Sql } from 'postgres';
import type { Analyser, Chamber } from '../../shared/contract/fleet.ts';
import type { Scan } from '../../shared/contract/scans.ts';
import { packFloat64 } from '../../shared/db/codec.ts';
import type { Database } from '../../shared/db/connect.ts';
import { type ScanRow, storeScans } from '../../shared/db/ingest.ts';
import { unpackInstrument, unpackMemory } from '../../shared/db/memory.ts';
import { toPascal } from '../../shared/units.ts';

export interface FleetParts {
  readonly chambers: readonly (Partial<Chamber> & { id: string })[];
  readonly analysers: readonly Analyser[];
}

/** One chamber with one analyser, `${id}-a`, unless told otherwise. */
export const aFleet = (...ids: string[]): FleetParts => ({
  chambers: ids.map((id) => ({ id })),
  analysers: ids.map((id) => ({ id: `${id}-a`, chamber: id, sensitivityAmperesPerPascal: 7.5e-7 })),
});

export const storeFleet = async (sql: Sql, { chambers, analysers }: FleetParts): Promise<void> => {
  await sql`insert into areas (id, name, time_zone, shifts, position, document)
    values ('hall', 'Hall', 'Europe/Lisbon', '{06:00}', 0, '{"id": "hall"}') on conflict do nothing`;
  for (const [position, chamber] of chambers.entries()) {
    const document = { area: 'hall', ...chamber };
    await sql`insert into chambers (id, name, area, kind, position, document)
      values (${chamber.id}, ${chamber.name ?? chamber.id}, ${document.area}, ${chamber.kind ?? null}, ${position},
        ${sql.json(document)})`;
  }
  for (const [position, analyser] of analysers.entries()) {
    await sql`insert into analysers (chamber, id, position, document)
      values (${analyser.chamber}, ${analyser.id}, ${position}, ${sql.json(analyser)})`;
  }
};

export const rowOf = (chamber: string, scan: Scan): ScanRow => {
  const values = Float64Array.from(scan.values, (value) => value ?? Number.NaN);
  return {
    chamber,
    analyser: scan.analyser,
    id: scan.id,
    atMs: Date.parse(scan.at),
    seconds: scan.seconds,
    averages: scan.averages ?? 1,
    masses: scan.masses,
    packed: packFloat64(values),
    digest: createHash('sha256').update(JSON.stringify(scan)).digest(),
    unit: scan.unit,
    detector: scan.detector ?? null,
    totalPressurePa: scan.totalPressure ? toPascal(scan.totalPressure.value, scan.totalPressure.unit) : null,
    state: scan.state ?? null,
    temperatureC: scan.temperatureC ?? null,
  };
};

/** Accepts scans as the server does; their ids are taken as new. */
export const accept = async (
  sql: Sql,
  asked: { chamber: string; scans: readonly Scan[]; receivedAt?: Date },
): Promise<void> => {
  await storeScans(
    sql,
    asked.scans.map((scan) => rowOf(asked.chamber, scan)),
    asked.receivedAt ?? new Date(),
  );
};

/** A small true-looking scan, some minutes after a fixed morning: what the test does not state does not matter. */
export const aScan = (minute: number, stated: Partial<Scan> = {}): Scan => ({
  analyser: 'c1-a',
  id: `m${minute}`,
  at: new Date(MORNING + minute * 60_000).toISOString(),
  seconds: 10,
  masses: { first: 1, last: 50, perUnit: 1 },
  values: Array.from({ length: 50 }, (_, i) => WET[i + 1] ?? 1e-14 * Math.sin(minute * 13 + i * 7)),
  unit: 'A',
  ...stated,
});

export const MORNING = Date.parse('2031-03-04T06:00:00Z');
export const minutesAfter = (minute: number): Date => new Date(MORNING + minute * 60_000);

/** Ion currents of a wet chamber, A: water, nitrogen, some carbon dioxide. Invented. */
const WET: Record<number, number> = {
  2: 4e-13,
  16: 1.2e-13,
  17: 6.3e-13,
  18: 2.8e-12,
  28: 6e-13,
  14: 6e-14,
  44: 1.1e-13,
  32: 2e-14,
  40: 6e-15,
};

/** Everything that follows from the scans, and nothing that follows from when they came. */
export const whatIsStored = async ({ sql }: Pick<Database, 'sql'>) => ({
  readings: (
    await sql`select r.*, g.gases from readings r join gas_lists g on g.id = r.gas_list order by r.chamber, r.at`
  ).map(({ gas_list, ...rest }) => rest),
  latest: (await sql`select * from latest order by chamber`).map(({ received_at, gas_list, ...rest }) => rest),
  states: await sql`select * from chamber_states order by chamber, at`,
  baselines: await sql`select * from baselines order by chamber, state`,
  alerts: await sql`select * from alerts order by chamber, raised_at, id`,
  moves: await sql`select * from alert_moves order by chamber, alert, seq`,
  memories: (await sql`select * from watch_memory order by chamber`).map(
    ({ memory, instrument, version, ...rest }) => ({
      ...rest,
      memory: unpackMemory(memory),
      instrument: instrument && unpackInstrument(instrument),
    }),
  ),
});
