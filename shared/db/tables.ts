/**
 * Every table. Column names carry the unit; row types are inferred here and nowhere else.
 *
 * Keys put the chamber first, so that a distributed PostgreSQL can shard by it. Truth and outstanding work are
 * written in one statement; the queue only carries a nudge. `scans` and `readings` are partitioned by time
 * (see migrations/), which is why a scan's identity lives in `scan_keys`.
 */
import { sql } from 'drizzle-orm';
import {
  bigint,
  boolean,
  customType,
  doublePrecision,
  index,
  integer,
  jsonb,
  pgTable,
  primaryKey,
  real,
  text,
  timestamp,
  uniqueIndex,
} from 'drizzle-orm/pg-core';
import type { InstrumentView, Measurement } from '../analysis/types.ts';
import type { CalibrationValue, ChangeResult, InnerTask, NewTask } from '../contract/calibration.ts';
import type { Handover } from '../contract/handover.ts';
import type { RationalisationRecord } from '../contract/rationalisation.ts';
import type { Note, Spectrum, StripMark } from '../contract/readings.ts';
import type { NewRehearsal } from '../contract/rehearsal.ts';
import type { CoursesView } from '../watch/coursesView.ts';
import type { SiteExample } from '../watch/types.ts';

export const bytea = customType<{ data: Buffer }>({ dataType: () => 'bytea' });
const instant = (name: string) => timestamp(name, { withTimezone: true, precision: 3, mode: 'date' });

/** One row of what is true of the whole installation: site name, example flag, secrets' hashes. */
export const settings = pgTable('settings', {
  key: text('key').primaryKey(),
  value: jsonb('value').notNull(),
});

export const areas = pgTable('areas', {
  id: text('id').primaryKey(),
  name: text('name').notNull(),
  timeZone: text('time_zone').notNull(),
  shifts: text('shifts').array().notNull(),
  position: integer('position').notNull(),
  document: jsonb('document').notNull(),
  retiredAt: instant('retired_at'),
});

export const chambers = pgTable('chambers', {
  id: text('id').primaryKey(),
  name: text('name').notNull(),
  area: text('area').notNull(),
  kind: text('kind'),
  position: integer('position').notNull(),
  /** As it stood in the fleet document: volume, speeds, gases, tags. */
  document: jsonb('document').notNull(),
  retiredAt: instant('retired_at'),
});

export const analysers = pgTable(
  'analysers',
  {
    chamber: text('chamber').notNull(),
    id: text('id').notNull(),
    position: integer('position').notNull(),
    document: jsonb('document').notNull(),
    /** Raised by one whenever the document changes; readings and tickets name it. */
    version: integer('version').notNull().default(1),
    retiredAt: instant('retired_at'),
  },
  (t) => [primaryKey({ columns: [t.chamber, t.id] }), uniqueIndex('analysers_id').on(t.id)],
);

export const fleetVersions = pgTable('fleet_versions', {
  version: integer('version').primaryKey().generatedAlwaysAsIdentity(),
  document: jsonb('document').notNull(),
  appliedAt: instant('applied_at').notNull(),
  appliedBy: text('applied_by').notNull(),
});

export const tokens = pgTable('tokens', {
  id: text('id').primaryKey(),
  name: text('name').notNull(),
  role: text('role').notNull(),
  /** Analysers a gateway may send for; null: all. */
  analysers: text('analysers').array(),
  /** SHA-256 of the token, hex. */
  hash: text('hash').notNull().unique(),
  createdAt: instant('created_at').notNull(),
  lastUsedAt: instant('last_used_at'),
  revokedAt: instant('revoked_at'),
});

export const people = pgTable('people', {
  login: text('login').primaryKey(),
  name: text('name').notNull(),
  role: text('role').notNull(),
  /** argon2id, PHC string. */
  passwordHash: text('password_hash').notNull(),
  createdAt: instant('created_at').notNull(),
  lastSeenAt: instant('last_seen_at'),
  retiredAt: instant('retired_at'),
  /** How this person reads the page: units, time zone, keys. Written by the person alone. */
  preferences: jsonb('preferences').notNull().default({}),
});

export const sessions = pgTable('sessions', {
  /** SHA-256 of the cookie, hex. */
  hash: text('hash').primaryKey(),
  /** Of a person; null: of a token. */
  login: text('login'),
  /** Id of the token that a display has signed in with; its session ends with it. Null: of a person. */
  token: text('token'),
  createdAt: instant('created_at').notNull(),
  seenAt: instant('seen_at').notNull(),
  expiresAt: instant('expires_at').notNull(),
});

/** One-time links: the first account. */
export const setUpKeys = pgTable('set_up_keys', {
  hash: text('hash').primaryKey(),
  expiresAt: instant('expires_at').notNull(),
  usedAt: instant('used_at'),
});

/** Who a scan is: the sender's id, for ever. Kept apart from `scans` because a partition cannot enforce it. */
export const scanKeys = pgTable(
  'scan_keys',
  {
    chamber: text('chamber').notNull(),
    analyser: text('analyser').notNull(),
    scanId: text('scan_id').notNull(),
    at: instant('at').notNull(),
    /** SHA-256 of the scan's canonical content: the same id with another digest is refused. */
    digest: bytea('digest').notNull(),
  },
  (t) => [primaryKey({ columns: [t.chamber, t.analyser, t.scanId] })],
);

/** Scans as accepted. Partitioned by month of `at`. Values are float64, little-endian; NaN: not measured. */
export const scans = pgTable(
  'scans',
  {
    chamber: text('chamber').notNull(),
    analyser: text('analyser').notNull(),
    at: instant('at').notNull(),
    scanId: text('scan_id').notNull(),
    seconds: doublePrecision('seconds').notNull(),
    averages: integer('averages').notNull(),
    masses: jsonb('masses').notNull(),
    values: bytea('values').notNull(),
    unit: text('unit').notNull(),
    detector: text('detector'),
    totalPressurePa: doublePrecision('total_pressure_pa'),
    state: text('state'),
    temperatureC: real('temperature_c'),
    receivedAt: instant('received_at').notNull(),
  },
  (t) => [primaryKey({ columns: [t.chamber, t.analyser, t.at, t.scanId] })],
);

/** Work: accepted and not yet analysed. Written with the scan, deleted with its reading. */
export const outstandingScans = pgTable(
  'outstanding_scans',
  {
    chamber: text('chamber').notNull(),
    analyser: text('analyser').notNull(),
    at: instant('at').notNull(),
    scanId: text('scan_id').notNull(),
    receivedAt: instant('received_at').notNull(),
  },
  (t) => [primaryKey({ columns: [t.chamber, t.at, t.analyser, t.scanId] })],
);

export const rejects = pgTable(
  'rejects',
  {
    id: bigint('id', { mode: 'number' }).primaryKey().generatedAlwaysAsIdentity(),
    receivedAt: instant('received_at').notNull(),
    token: text('token').notNull(),
    analyser: text('analyser'),
    scanId: text('scan_id'),
    position: integer('position').notNull(),
    problem: text('problem').notNull(),
    /** The scan as sent, at most 64 kB of it. */
    body: text('body').notNull(),
  },
  (t) => [index('rejects_received').on(t.receivedAt)],
);

/** The lists of gases that readings refer to, so that a reading does not repeat them. */
export const gasLists = pgTable('gas_lists', {
  id: integer('id').primaryKey().generatedAlwaysAsIdentity(),
  gases: text('gases').array().notNull().unique(),
});

/**
 * One analysed scan. Partitioned by month of `at`.
 * `estimates` holds, per gas of the list, four float32 (value, low, high, sigma; Pa), little-endian; a gas is
 * detected where bit i of `detected` is set. Null `estimates`: no answer, `notes` says why.
 */
export const readings = pgTable(
  'readings',
  {
    chamber: text('chamber').notNull(),
    analyser: text('analyser').notNull(),
    at: instant('at').notNull(),
    scanId: text('scan_id').notNull(),
    state: text('state').notNull(),
    gasList: integer('gas_list').notNull(),
    estimates: bytea('estimates'),
    detected: bytea('detected'),
    gaugePa: doublePrecision('gauge_pa'),
    sumPa: doublePrecision('sum_pa'),
    floorPa: doublePrecision('floor_pa'),
    decades: real('decades'),
    unexplained: real('unexplained'),
    kappa: real('kappa'),
    chiSquarePerDof: real('chi_square_per_dof'),
    detector: text('detector'),
    /** Mean offset of the peaks and full width at half height; null: bars, or no peak to tell by. */
    massOffsetU: real('mass_offset_u'),
    widthU: real('width_u'),
    readNoisePa: doublePrecision('read_noise_pa'),
    /** Multiplier gain that was used; null on the Faraday detector. */
    gain: real('gain'),
    notes: jsonb('notes').notNull(),
    calibrationVersion: text('calibration_version').notNull(),
    catalogueVersion: text('catalogue_version').notNull(),
    /** False for a scan older than the newest one judged: it moved no alert. */
    judged: boolean('judged').notNull(),
  },
  (t) => [primaryKey({ columns: [t.chamber, t.analyser, t.at, t.scanId] })],
);

/** How the newest scan was measured, with its fit beside it. */
export type StoredMeasurement = Measurement & { readonly chiSquarePerDof: number | null };
/** The newest spectrum of an analyser as it lies in `latest`: values, sigmas and baselines of the peaks in Pa. */
export type StoredSpectrum = Pick<Spectrum, 'scanId' | 'seconds' | 'averages' | 'detector'> & {
  /** `residual`: height minus all that explains it, Pa; absent in rows of before. */
  readonly peaks: readonly (Spectrum['peaks'][number] & { readonly residual?: number | null })[];
};
/** A mark of the drift strip without what only the round knows. */
export type StoredStripMark = Omit<StripMark, 'atLastRound' | 'alert'>;

/** The newest reading of each analyser with its peaks, for the overview and the spectrum. */
export const latest = pgTable(
  'latest',
  {
    chamber: text('chamber').notNull(),
    analyser: text('analyser').notNull(),
    at: instant('at').notNull(),
    scanId: text('scan_id').notNull(),
    state: text('state').notNull(),
    stateSince: instant('state_since').notNull(),
    scanPeriodSeconds: real('scan_period_seconds'),
    gasList: integer('gas_list').notNull(),
    estimates: bytea('estimates'),
    detected: bytea('detected'),
    gaugePa: doublePrecision('gauge_pa'),
    sumPa: doublePrecision('sum_pa'),
    floorPa: doublePrecision('floor_pa'),
    decades: real('decades'),
    unexplained: real('unexplained'),
    kappa: real('kappa'),
    notes: jsonb('notes').$type<Note[]>().notNull(),
    /** Per gas: decades from the baseline, half width, status. */
    strip: jsonb('strip').$type<StoredStripMark[]>().notNull(),
    /** {have, need} while the baseline of the present state is being learned, else null. */
    learning: jsonb('learning').$type<{ have: number; need: number }>(),
    /** Null: the scan gave no peaks, `notes` says why. */
    spectrum: jsonb('spectrum').$type<StoredSpectrum>(),
    /** How this scan was measured (analysis/types.ts); null: the scan gave no answer. */
    measurement: jsonb('measurement').$type<StoredMeasurement>(),
    /** What has been learned of the analyser over its scans. */
    instrument: jsonb('instrument').$type<InstrumentView>(),
    /** A pump-down that is going on, and the parts that wear; null: nothing judged yet. */
    courses: jsonb('courses').$type<CoursesView>(),
    /** When this scan reached us, by our clock: an analyser that is sending its past is not silent. */
    receivedAt: instant('received_at').notNull(),
  },
  (t) => [primaryKey({ columns: [t.chamber, t.analyser] })],
);

/** Calibrations that people have put in force over what the fleet document says, and those proposed to them. */
export const calibrations = pgTable(
  'calibrations',
  {
    chamber: text('chamber').notNull(),
    analyser: text('analyser').notNull(),
    id: text('id').notNull(),
    kind: text('kind').notNull(),
    /** For a pattern. */
    gas: text('gas'),
    /** CalibrationValue of the contract. */
    value: jsonb('value').$type<CalibrationValue>().notNull(),
    source: text('source').notNull(),
    note: text('note').notNull(),
    /** proposed, in-force, withdrawn. A row is never deleted. */
    state: text('state').notNull(),
    validFrom: instant('valid_from'),
    validTo: instant('valid_to'),
    setAt: instant('set_at').notNull(),
    setBy: text('set_by').notNull(),
    decidedAt: instant('decided_at'),
    decidedBy: text('decided_by'),
    decisionNote: text('decision_note'),
    scansFrom: instant('scans_from'),
    scansTo: instant('scans_to'),
    scanCount: integer('scan_count'),
  },
  (t) => [
    primaryKey({ columns: [t.chamber, t.analyser, t.id] }),
    uniqueIndex('calibrations_id').on(t.id),
    index('calibrations_analyser').on(t.analyser),
  ],
);

/** Work that people ask for and workers do: patterns, backgrounds, recomputations, changes between two scans. */
export const tasks = pgTable(
  'tasks',
  {
    chamber: text('chamber').notNull(),
    analyser: text('analyser').notNull(),
    id: text('id').notNull(),
    kind: text('kind').notNull(),
    request: jsonb('request').$type<NewTask | InnerTask>().notNull(),
    /** waiting, done, failed. */
    state: text('state').notNull(),
    askedAt: instant('asked_at').notNull(),
    askedBy: text('asked_by').notNull(),
    finishedAt: instant('finished_at'),
    problem: text('problem'),
    calibration: text('calibration'),
    scans: integer('scans'),
    change: jsonb('change').$type<ChangeResult>(),
    /** A rehearsal's chamber: alerts with the settings in force and with the changed ones, as far as it has come. */
    rehearsal: text('rehearsal'),
    result: jsonb('result').$type<unknown>(),
    /** How far a long one has come: the last scan that is done. */
    doneTo: instant('done_to'),
    doneScan: text('done_scan'),
    /** The calibrations, catalogue and gases it began with: it may not go on with others. */
    basis: text('basis'),
    /** What the analysis remembers of the analyser at that scan, packed as in `watch_memory`. */
    instrument: bytea('instrument'),
  },
  (t) => [
    primaryKey({ columns: [t.chamber, t.id] }),
    uniqueIndex('tasks_id').on(t.id),
    index('tasks_waiting').on(t.chamber).where(sql`state = 'waiting'`),
    index('tasks_analyser').on(t.analyser, t.askedAt),
    index('tasks_rehearsal').on(t.rehearsal).where(sql`rehearsal is not null`),
  ],
);

/** Readings worked out again with another calibration, beside the ones that were judged: those are never changed. */
export const recomputedReadings = pgTable(
  'recomputed_readings',
  {
    chamber: text('chamber').notNull(),
    task: text('task').notNull(),
    at: instant('at').notNull(),
    scanId: text('scan_id').notNull(),
    gasList: integer('gas_list').notNull(),
    estimates: bytea('estimates'),
    detected: bytea('detected'),
    sumPa: doublePrecision('sum_pa'),
    floorPa: doublePrecision('floor_pa'),
    notes: jsonb('notes').notNull(),
    calibrationVersion: text('calibration_version').notNull(),
    catalogueVersion: text('catalogue_version').notNull(),
  },
  (t) => [primaryKey({ columns: [t.chamber, t.task, t.at, t.scanId] })],
);

/** Operating states as reported, one row per change. */
export const chamberStates = pgTable(
  'chamber_states',
  {
    chamber: text('chamber').notNull(),
    analyser: text('analyser').notNull(),
    at: instant('at').notNull(),
    state: text('state').notNull(),
  },
  (t) => [primaryKey({ columns: [t.chamber, t.analyser, t.at] })],
);

/** What the watch remembers of an analyser: one value, replaced with every batch. */
export const watchMemory = pgTable(
  'watch_memory',
  {
    chamber: text('chamber').notNull(),
    analyser: text('analyser').notNull(),
    /** Newest scan judged; an older one moves no alert. */
    judgedTo: instant('judged_to').notNull(),
    /** Raised by one with every write: what was worked out from an older one is not written. */
    version: integer('version').notNull(),
    /** See memory.ts. */
    memory: bytea('memory').notNull(),
    /** What the analysis remembers of the analyser itself, packed alike; null: nothing yet. */
    instrument: bytea('instrument'),
  },
  (t) => [primaryKey({ columns: [t.chamber, t.analyser] })],
);

/** What is usual, for drawing and for people: per state and gas. The watch works from its memory. */
export const baselines = pgTable(
  'baselines',
  {
    chamber: text('chamber').notNull(),
    analyser: text('analyser').notNull(),
    state: text('state').notNull(),
    /** {gas: {medianLog10Pa, sigmaDecades, halfWidthDecades, scans, frozen}} */
    gases: jsonb('gases').notNull(),
    /** {mass: N2-equivalent Pa}, for the outline in the spectrum. */
    peaks: jsonb('peaks').notNull(),
    since: instant('since').notNull(),
    until: instant('until').notNull(),
  },
  (t) => [primaryKey({ columns: [t.chamber, t.analyser, t.state] })],
);

export const limits = pgTable(
  'limits',
  {
    chamber: text('chamber').notNull(),
    gas: text('gas').notNull(),
    limitPa: doublePrecision('limit_pa').notNull(),
    priority: text('priority').notNull(),
    note: text('note').notNull(),
    setAt: instant('set_at').notNull(),
    setBy: text('set_by').notNull(),
  },
  (t) => [primaryKey({ columns: [t.chamber, t.gas] })],
);

export const alerts = pgTable(
  'alerts',
  {
    chamber: text('chamber').notNull(),
    id: text('id').notNull(),
    analyser: text('analyser'),
    signature: text('signature').notNull(),
    gases: text('gases').array().notNull(),
    priority: text('priority').notNull(),
    state: text('state').notNull(),
    raisedAt: instant('raised_at').notNull(),
    returnedAt: instant('returned_at'),
    acknowledgedAt: instant('acknowledged_at'),
    acknowledgedBy: text('acknowledged_by'),
    acknowledgedNote: text('acknowledged_note'),
    shelvedUntil: instant('shelved_until'),
    shelvedReason: text('shelved_reason'),
    closedAt: instant('closed_at'),
    closedBy: text('closed_by'),
    closedCause: text('closed_cause'),
    closedNote: text('closed_note'),
    /** The condition stands now, whatever people did with the alert. */
    active: boolean('active').notNull(),
    /**
     * The analysers whose watch holds the condition as standing; the alert returns when the last lets go. A person
     * who closes the alert leaves this alone: the workers read from it whose watch has yet to be told.
     */
    heldBy: text('held_by').array().notNull(),
    /** summary, sureness, firstStep, settle, evidence, leakRate, alternatives: as in the contract. */
    finding: jsonb('finding').notNull(),
    /** Asked for by the rationalisation in force when it was raised: it stays until it is reset; hours to the next call. */
    latching: boolean('latching').notNull().default(false),
    reAlarmHours: real('re_alarm_hours'),
    responder: text('responder').notNull().default('operator'),
    rationalisationVersion: integer('rationalisation_version').notNull().default(0),
    /** The state that suppression, shelving or a break of service will give back. */
    stateBefore: text('state_before'),
    suppressedSince: instant('suppressed_since'),
    suppressedReason: text('suppressed_reason'),
    outOfServiceUntil: instant('out_of_service_until'),
    outOfServiceReason: text('out_of_service_reason'),
    outOfServiceBy: text('out_of_service_by'),
    shelvings: integer('shelvings').notNull().default(0),
    /** What was found when it was closed: a word of VERIFIED_CAUSES. */
    verified: text('verified'),
  },
  (t) => [
    primaryKey({ columns: [t.chamber, t.id] }),
    uniqueIndex('alerts_id').on(t.id),
    uniqueIndex('alerts_one_open').on(t.chamber, t.signature).where(sql`state <> 'normal'`),
    index('alerts_raised').on(t.raisedAt),
    index('alerts_untold').on(t.chamber).where(sql`state = 'normal' and held_by <> '{}'`),
    index('alerts_shelved').on(t.shelvedUntil).where(sql`shelved_until is not null`),
    index('alerts_out_of_service').on(t.outOfServiceUntil).where(sql`state = 'out-of-service'`),
    index('alerts_re_alarm').on(t.acknowledgedAt).where(sql`state = 'acknowledged' and re_alarm_hours is not null`),
    index('alerts_closed').on(t.closedAt).where(sql`closed_at is not null`),
  ],
);

/** Every move of every alert: who, when, from what to what. Never changed. */
export const alertMoves = pgTable(
  'alert_moves',
  {
    chamber: text('chamber').notNull(),
    alert: text('alert').notNull(),
    seq: integer('seq').notNull(),
    at: instant('at').notNull(),
    by: text('by'),
    move: text('move').notNull(),
    from: text('from_state'),
    to: text('to_state').notNull(),
    note: text('note'),
  },
  (t) => [primaryKey({ columns: [t.chamber, t.alert, t.seq] }), index('alert_moves_at').on(t.at)],
);

/** Rationalisation records that engineers have written over the built-in ones; every version stays. */
export const rationalisations = pgTable(
  'rationalisations',
  {
    signature: text('signature').notNull(),
    /** Kind of chamber; '': every kind without a record of its own. */
    kind: text('kind').notNull(),
    version: integer('version').notNull(),
    record: jsonb('record').$type<RationalisationRecord>().notNull(),
    note: text('note').notNull(),
    setAt: instant('set_at').notNull(),
    setBy: text('set_by').notNull(),
  },
  (t) => [primaryKey({ columns: [t.signature, t.kind, t.version] })],
);

/** A signature of a chamber taken out of service until a date: what is raised meanwhile calls nobody. */
export const serviceBreaks = pgTable(
  'service_breaks',
  {
    chamber: text('chamber').notNull(),
    signature: text('signature').notNull(),
    until: instant('until').notNull(),
    reason: text('reason').notNull(),
    setAt: instant('set_at').notNull(),
    setBy: text('set_by').notNull(),
  },
  (t) => [primaryKey({ columns: [t.chamber, t.signature] })],
);

/** Baselines learned anew from a period that an engineer chose. A row is never deleted. */
export const baselinePins = pgTable(
  'baseline_pins',
  {
    chamber: text('chamber').notNull(),
    analyser: text('analyser').notNull(),
    id: text('id').notNull(),
    version: integer('version').notNull(),
    operatingState: text('operating_state').notNull(),
    scansFrom: instant('scans_from').notNull(),
    scansTo: instant('scans_to').notNull(),
    note: text('note').notNull(),
    /** waiting, proposed, in-force, replaced, withdrawn, failed. */
    state: text('state').notNull(),
    problem: text('problem'),
    scanCount: integer('scan_count'),
    /** The learned baseline, packed as in `watch_memory`. */
    baseline: bytea('baseline'),
    setAt: instant('set_at').notNull(),
    setBy: text('set_by').notNull(),
    validFrom: instant('valid_from'),
    decidedAt: instant('decided_at'),
    decidedBy: text('decided_by'),
    decisionNote: text('decision_note'),
  },
  (t) => [
    primaryKey({ columns: [t.chamber, t.analyser, t.id] }),
    uniqueIndex('baseline_pins_id').on(t.id),
    uniqueIndex('baseline_pins_version').on(t.chamber, t.analyser, t.operatingState, t.version),
  ],
);

/** A change that somebody wants to try on the past before it is saved; its chambers are tasks. */
export const rehearsals = pgTable('rehearsals', {
  id: text('id').primaryKey(),
  request: jsonb('request').$type<NewRehearsal>().notNull(),
  askedAt: instant('asked_at').notNull(),
  askedBy: text('asked_by').notNull(),
});

/** Closed cases kept as examples of their verified cause. */
export const signatureExamples = pgTable(
  'signature_examples',
  {
    id: text('id').primaryKey(),
    chamber: text('chamber').notNull(),
    alert: text('alert').notNull().unique(),
    chamberKind: text('chamber_kind'),
    claimed: text('claimed').notNull(),
    verified: text('verified').notNull(),
    /** SiteExample of the watch: gases, masses, change, sigma. */
    example: jsonb('example').$type<SiteExample>().notNull(),
    note: text('note').notNull(),
    setAt: instant('set_at').notNull(),
    setBy: text('set_by').notNull(),
    withdrawnAt: instant('withdrawn_at'),
    withdrawnBy: text('withdrawn_by'),
    /** What the watch names it without itself. */
    check: jsonb('check').$type<{ named: string | null; right: boolean; sureness: string; at: string }>(),
  },
  (t) => [index('signature_examples_kind').on(t.chamberKind)],
);

/** Signed rounds. What was signed never changes; the counter-signature of the next shift is added once. */
export const rounds = pgTable(
  'rounds',
  {
    area: text('area').notNull(),
    id: text('id').notNull(),
    signedAt: instant('signed_at').notNull(),
    signedBy: text('signed_by').notNull(),
    /** Kind and login or token name of the signer: names of people are not unique. Null: signed before this was kept. */
    signedAs: text('signed_as'),
    note: text('note').notNull(),
    /** The lines as the signer saw them. */
    seen: jsonb('seen').notNull(),
    /** The handover as it stood. Null: signed before handovers were kept. */
    handover: jsonb('handover').$type<Handover>(),
    countersignedAt: instant('countersigned_at'),
    countersignedBy: text('countersigned_by'),
    countersignedAs: text('countersigned_as'),
    countersignedNote: text('countersigned_note'),
  },
  (t) => [
    primaryKey({ columns: [t.area, t.id] }),
    uniqueIndex('rounds_id').on(t.id),
    index('rounds_signed').on(t.area, t.signedAt),
  ],
);

/** What people hand over in their own words: it stays open over shifts until somebody closes it, and is never deleted. */
export const handoverEntries = pgTable(
  'handover_entries',
  {
    area: text('area').notNull(),
    id: text('id').notNull(),
    /** work, promise, watch. */
    kind: text('kind').notNull(),
    chamber: text('chamber'),
    text: text('text').notNull(),
    dueAt: instant('due_at'),
    setAt: instant('set_at').notNull(),
    setBy: text('set_by').notNull(),
    doneAt: instant('done_at'),
    doneBy: text('done_by'),
    doneNote: text('done_note'),
  },
  (t) => [
    primaryKey({ columns: [t.area, t.id] }),
    uniqueIndex('handover_entries_id').on(t.id),
    index('handover_entries_open').on(t.area).where(sql`done_at is null`),
    index('handover_entries_chamber').on(t.chamber, t.setAt),
  ],
);

/**
 * What a person noted at a moment of a chamber's life; drawn on its trend and told in its log and its tickets. Never
 * changed; a withdrawn one stays with who withdrew it.
 */
export const chamberNotes = pgTable(
  'chamber_notes',
  {
    id: text('id').primaryKey(),
    chamber: text('chamber').notNull(),
    /** The moment that the note is about. */
    at: instant('at').notNull(),
    text: text('text').notNull(),
    madeAt: instant('made_at').notNull(),
    madeBy: text('made_by').notNull(),
    withdrawnAt: instant('withdrawn_at'),
    withdrawnBy: text('withdrawn_by'),
  },
  (t) => [index('chamber_notes_at').on(t.chamber, t.at)],
);

/** Who changed what: fleet, limits, people, tokens. */
export const audit = pgTable(
  'audit',
  {
    id: bigint('id', { mode: 'number' }).primaryKey().generatedAlwaysAsIdentity(),
    at: instant('at').notNull(),
    by: text('by').notNull(),
    what: text('what').notNull(),
    detail: jsonb('detail').notNull(),
  },
  (t) => [index('audit_at').on(t.at)],
);
