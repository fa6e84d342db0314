/**
 * Writes one analysed batch: readings, latest, memory, baselines, states, alerts, and the end of its outstanding rows,
 * in one transaction.
 *
 * The mathematics was done before, outside of any transaction, from what was read then. Two fences make that safe, for
 * a second worker of the same chamber as for one that was frozen and woke: every outstanding row of the batch must
 * still be there to be deleted, and every memory must still have the version that was read. Else nothing is written.
 */
import type { Sql } from 'postgres';
import {
  alertEvent,
  readStandingAlerts,
  type StandingAlert,
  tellListeners,
  writeStandingAlerts,
} from '../shared/db/alerts.ts';
import type { Database, Transaction } from '../shared/db/connect.ts';
import type { StoredEvent } from '../shared/db/events.ts';
import { packMemory } from '../shared/db/memory.ts';
import { ensurePartitionsFor } from '../shared/db/partitions.ts';
import type { WatchEvent } from '../shared/watch/types.ts';
import { lockChamber } from './chamberLock.ts';
import type { GasLists } from './gasLists.ts';
import type { AnalyserOutcome, BatchOutcome } from './outcome.ts';
import { readPractice } from './practice.ts';
import { gasesOf, measurementOf, type ReadingRow, readingRow, spectrumOf } from './readingRows.ts';
import { applyEvents } from './standing.ts';

/** Another worker was faster. Nothing was written; what is outstanding now may be something else. */
export class OvertakenError extends Error {
  constructor(chamber: string, by: string) {
    super(`Chamber ${chamber}: ${by}`);
    this.name = 'OvertakenError';
  }
}

export interface Batch {
  readonly chamber: string;
  readonly outcome: BatchOutcome;
}

type WatchedAnalyser = AnalyserOutcome & { readonly watch: NonNullable<AnalyserOutcome['watch']> };

const isWatched = (analyser: AnalyserOutcome): analyser is WatchedAnalyser => analyser.watch !== null;
const iso = (date: Date): string => date.toISOString();
// Lists of Buffers and of booleans travel as text: the driver takes a list for one value of its first member's type.
const hex = (bytes: Buffer | null): string | null => (bytes ? `\\x${bytes.toString('hex')}` : null);

const deleteOutstanding = (tx: Transaction, chamber: string, rows: readonly ReadingRow[]) => tx`
  delete from outstanding_scans o
  using unnest(${rows.map(({ analyser }) => analyser)}::text[], ${rows.map(({ at }) => iso(at))}::timestamptz[],
    ${rows.map(({ scanId }) => scanId)}::text[]) as w (analyser, at, scan_id)
  where o.chamber = ${chamber} and o.analyser = w.analyser and o.at = w.at and o.scan_id = w.scan_id`;

const insertReadings = (tx: Transaction, chamber: string, rows: readonly ReadingRow[]) => tx`
  insert into readings (chamber, analyser, at, scan_id, state, gas_list, estimates, detected, gauge_pa, sum_pa,
    floor_pa, decades, unexplained, kappa, chi_square_per_dof, detector, mass_offset_u, width_u, read_noise_pa, gain,
    notes, calibration_version, catalogue_version, judged)
  select ${chamber}, * from unnest(
    ${rows.map((r) => r.analyser)}::text[], ${rows.map((r) => iso(r.at))}::timestamptz[],
    ${rows.map((r) => r.scanId)}::text[], ${rows.map((r) => r.state)}::text[], ${rows.map((r) => r.gasList)}::int[],
    ${rows.map((r) => hex(r.estimates))}::text[]::bytea[], ${rows.map((r) => hex(r.detected))}::text[]::bytea[],
    ${rows.map((r) => r.gaugePa)}::float8[], ${rows.map((r) => r.sumPa)}::float8[],
    ${rows.map((r) => r.floorPa)}::float8[], ${rows.map((r) => r.decades)}::real[],
    ${rows.map((r) => r.unexplained)}::real[], ${rows.map((r) => r.kappa)}::real[],
    ${rows.map((r) => r.chiSquarePerDof)}::real[], ${rows.map((r) => r.detector)}::text[],
    ${rows.map((r) => r.massOffsetU)}::real[], ${rows.map((r) => r.widthU)}::real[],
    ${rows.map((r) => r.readNoisePa)}::float8[], ${rows.map((r) => r.gain)}::real[],
    ${rows.map((r) => JSON.stringify(r.notes))}::text[]::jsonb[], ${rows.map((r) => r.calibrationVersion)}::text[],
    ${rows.map((r) => r.catalogueVersion)}::text[], ${rows.map((r) => String(r.judged))}::text[]::boolean[])
  on conflict do nothing`;

/** Moves forward only. Strip and instrument are those of the last scan that went through the watch. */
const upsertLatest = (tx: Transaction, chamber: string, part: { analyser: AnalyserOutcome; row: ReadingRow }) => {
  const { newest, lastStep: step } = part.analyser;
  if (!newest) return null;
  const { row } = part;
  const spectrum = spectrumOf(newest, part.analyser);
  const measurement = measurementOf(newest);
  const { instrument, courses } = part.analyser;
  return tx`
    insert into latest as l (chamber, analyser, at, scan_id, state, state_since, scan_period_seconds, gas_list,
      estimates, detected, gauge_pa, sum_pa, floor_pa, decades, unexplained, kappa, notes, strip, learning, spectrum,
      measurement, instrument, courses, received_at)
    values (${chamber}, ${row.analyser}, ${row.at}, ${row.scanId}, ${row.state}, ${newest.stateSince},
      ${step?.periodSeconds ?? null}, ${row.gasList}, ${row.estimates}, ${row.detected}, ${row.gaugePa}, ${row.sumPa},
      ${row.floorPa}, ${row.decades}, ${row.unexplained}, ${row.kappa}, ${tx.json(row.notes as never)},
      ${tx.json((step?.strip ?? []) as never)}, ${step?.learning ? tx.json(step.learning) : null},
      ${spectrum ? tx.json(spectrum as never) : null}, ${measurement ? tx.json(measurement as never) : null},
      ${instrument ? tx.json(instrument as never) : null}, ${courses ? tx.json(courses as never) : null},
      ${newest.work.receivedAt})
    on conflict (chamber, analyser) do update set at = excluded.at, scan_id = excluded.scan_id,
      state = excluded.state, state_since = excluded.state_since,
      scan_period_seconds = coalesce(excluded.scan_period_seconds, l.scan_period_seconds),
      gas_list = excluded.gas_list, estimates = excluded.estimates, detected = excluded.detected,
      gauge_pa = excluded.gauge_pa, sum_pa = excluded.sum_pa, floor_pa = excluded.floor_pa,
      decades = excluded.decades, unexplained = excluded.unexplained, kappa = excluded.kappa, notes = excluded.notes,
      strip = case when ${step !== null} then excluded.strip else l.strip end,
      learning = case when ${step !== null} then excluded.learning else l.learning end,
      spectrum = excluded.spectrum, measurement = excluded.measurement,
      instrument = case when ${step !== null} then excluded.instrument else l.instrument end,
      courses = case when ${step !== null} then excluded.courses else l.courses end,
      received_at = excluded.received_at
    where (excluded.at, excluded.scan_id) > (l.at, l.scan_id)`;
};

const upsertMemory = (tx: Transaction, chamber: string, { analyser, watch }: WatchedAnalyser) => tx`
  insert into watch_memory as m (chamber, analyser, judged_to, version, memory, instrument)
  values (${chamber}, ${analyser}, ${new Date(watch.judgedToMs)}, ${watch.readVersion + 1}, ${packMemory(watch.memory)},
    ${watch.instrument && packMemory(watch.instrument)})
  on conflict (chamber, analyser) do update set judged_to = excluded.judged_to, version = excluded.version,
    memory = excluded.memory, instrument = excluded.instrument
  where m.version = ${watch.readVersion}`;

const upsertBaselines = (tx: Transaction, chamber: string, analyser: AnalyserOutcome) =>
  analyser.baselines.map(
    (view) => tx`
      insert into baselines (chamber, analyser, state, gases, peaks, since, until)
      values (${chamber}, ${analyser.analyser}, ${view.state}, ${tx.json(view.gases)}, ${tx.json(view.peaks)},
        ${new Date(view.sinceMs)}, ${new Date(view.untilMs)})
      on conflict (chamber, analyser, state) do update set gases = excluded.gases, peaks = excluded.peaks,
        since = excluded.since, until = excluded.until`,
  );

const insertStates = (tx: Transaction, { chamber, outcome }: Batch) => tx`
  insert into chamber_states (chamber, analyser, at, state)
  select ${chamber}, * from unnest(${outcome.stateChanges.map((s) => s.analyser)}::text[],
    ${outcome.stateChanges.map((s) => iso(s.at))}::timestamptz[], ${outcome.stateChanges.map((s) => s.state)}::text[])
  on conflict do nothing`;

/** The watch of these analysers has forgotten what people closed: it is told once. */
const markTold = (tx: Transaction, { chamber, outcome }: Batch) => tx`
  update alerts a set held_by = (select coalesce(array_agg(h order by h), '{}') from unnest(a.held_by) as h
    where (a.id, h) not in (select * from unnest(${outcome.told.map((t) => t.alert)}::text[],
      ${outcome.told.map((t) => t.analyser)}::text[])))
  where a.chamber = ${chamber} and a.state = 'normal' and a.id = any(${outcome.told.map((t) => t.alert)}::text[])`;

/** Whether an alert about silence is open: asked without a lock, because nearly always there is none. */
const findSilence = (tx: Transaction, chamber: string) =>
  tx`select id from alerts where chamber = ${chamber} and signature = 'silent' and state <> 'normal'`;

/** Scans end a silence; at the earliest when it began, because a gateway may deliver what it had kept. */
const endsOfSilence = (analysers: readonly AnalyserOutcome[], standing: readonly StandingAlert[]) => {
  const silent = standing.find(({ signature }) => signature === 'silent');
  if (!silent) return [];
  return analysers.flatMap(({ analyser, first }): { analyser: string; event: WatchEvent }[] => {
    if (!first || !silent.heldBy.includes(analyser)) return [];
    const atMs = Math.max(first.work.at.getTime(), silent.life.raisedAtMs);
    return [{ analyser, event: { kind: 'returned', atMs, signature: 'silent' } }];
  });
};

/** @returns what listeners should hear of alerts */
const moveAlerts = async (tx: Transaction, { chamber, outcome }: Batch): Promise<StoredEvent[]> => {
  const standing = await readStandingAlerts(tx, chamber);
  const events = [...endsOfSilence(outcome.analysers, standing), ...outcome.events];
  if (events.length === 0) return [];
  const change = applyEvents(chamber, standing, events, await readPractice(tx, chamber));
  if (change.alerts.length === 0) return [];
  await writeStandingAlerts(tx, chamber, change);
  return change.alerts.map((alert) => alertEvent(chamber, alert));
};

const readingEvents = ({ chamber, outcome }: Batch): StoredEvent[] => {
  const newest = new Map(outcome.outcomes.map(({ work }) => [work.analyser, work.at]));
  return [...newest].map(([analyser, at]) => ({ event: 'reading', chamber, analyser, at: iso(at) }));
};

const writeAll = async (tx: Transaction, batch: Batch, rows: readonly ReadingRow[]) => {
  const { chamber, outcome } = batch;
  // Sent together, answered in order: one wait for the three.
  const [, gone, silence] = await Promise.all([
    lockChamber(tx, chamber),
    deleteOutstanding(tx, chamber, rows),
    findSilence(tx, chamber),
  ]);
  if (gone.count !== rows.length) throw new OvertakenError(chamber, 'its scans were analysed meanwhile');
  const alertEvents = outcome.events.length > 0 || silence.length > 0 ? await moveAlerts(tx, batch) : [];
  const watched = outcome.analysers.filter(isWatched);
  const rowOf = new Map(outcome.outcomes.map((each, i) => [each, rows[i] as ReadingRow]));
  const [memories] = await Promise.all([
    Promise.all(watched.map((analyser) => upsertMemory(tx, chamber, analyser))),
    insertReadings(tx, chamber, rows),
    ...outcome.analysers.map((analyser) =>
      analyser.newest ? upsertLatest(tx, chamber, { analyser, row: rowOf.get(analyser.newest) as ReadingRow }) : null,
    ),
    ...watched.flatMap((analyser) => upsertBaselines(tx, chamber, analyser)),
    outcome.stateChanges.length > 0 ? insertStates(tx, batch) : null,
    outcome.told.length > 0 ? markTold(tx, batch) : null,
    tellListeners(tx, [...readingEvents(batch), ...alertEvents]),
  ]);
  if (memories.some(({ count }) => count !== 1)) throw new OvertakenError(chamber, 'its watch has moved on meanwhile');
};

/** @throws {OvertakenError} when another worker was faster; nothing is written then */
export const writeBatch = async (
  database: Pick<Database, 'sql' | 'transaction'>,
  gasLists: GasLists,
  batch: Batch,
): Promise<void> => {
  const { outcomes } = batch.outcome;
  // Both outside the transaction: their locks would hold up other chambers until its end.
  await ensurePartitionsFor(
    database.sql as Sql,
    outcomes.map(({ work }) => work.at.getTime()),
  );
  const rows: ReadingRow[] = [];
  for (const outcome of outcomes) rows.push(readingRow(outcome, await gasLists(gasesOf(outcome))));
  await database.transaction((tx) => writeAll(tx, batch, rows));
};
