/** A server on a database of its own, and short ways to fill it. Rows of readings are written as the workers write them. */
import { randomBytes } from 'node:crypto';
import { buildApp } from '../../server/app.ts';
import type { App, Deps } from '../../server/deps.ts';
import type { InstrumentView } from '../../shared/analysis/types.ts';
import type { Note } from '../../shared/contract/readings.ts';
import type { Role } from '../../shared/contract/words.ts';
import { packEstimates } from '../../shared/db/codec.ts';
import { type Database, openDatabase } from '../../shared/db/connect.ts';
import { ensurePartitionsFor } from '../../shared/db/partitions.ts';
import type { StoredMeasurement, StoredSpectrum } from '../../shared/db/tables.ts';
import { freshDatabase, quiet } from '../support/services.ts';

export const ADMIN = `admin-${'x'.repeat(32)}`;
export const NOW = new Date('2026-03-02T12:00:00.000Z');

export interface Answer {
  status: number;
  headers: Record<string, unknown>;
  // biome-ignore lint/suspicious/noExplicitAny: a test reads what it expects, and fails where it is not
  body: any;
  raw: Buffer;
}

export interface World {
  app: App;
  db: Database;
  /** Of the database. */
  url: string;
  nudged: string[];
  /** Set the server's clock. */
  at: (time: Date) => void;
  ask: (
    method: string,
    url: string,
    options?: { body?: unknown; token?: string | null; headers?: Record<string, string> },
  ) => Promise<Answer>;
  tokenOf: (role: Role, analysers?: string[]) => Promise<string>;
  close: () => Promise<void>;
}

export const openWorld = async (changed: Partial<Deps> = {}): Promise<World> => {
  const fresh = await freshDatabase();
  const db = openDatabase(fresh.url, { applicationName: 'ullage-test', log: quiet });
  const nudged: string[] = [];
  let now = NOW;
  const app = await buildApp({
    db,
    nudge: async (chambers) => void nudged.push(...chambers),
    queueAnswers: async () => {},
    now: () => now,
    log: process.env.LOUD ? { ...quiet, error: (detail) => console.error(detail) } : quiet,
    settings: { site: 'Test site', adminToken: ADMIN },
    version: '0.0.0',
    webRoot: null,
    ...changed,
  });
  await app.ready();

  const ask: World['ask'] = async (method, url, { body, token = ADMIN, headers = {} } = {}) => {
    const isRaw = typeof body === 'string' || Buffer.isBuffer(body);
    const answer = await app.inject({
      method: method as 'GET',
      url,
      headers: {
        ...(token === null ? {} : { authorization: `Bearer ${token}` }),
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
        ...headers,
      },
      ...(body === undefined ? {} : { payload: isRaw ? body : JSON.stringify(body) }),
    });
    const isJson = /json/.test(String(answer.headers['content-type']));
    return {
      status: answer.statusCode,
      headers: answer.headers,
      body: isJson && answer.body !== '' ? JSON.parse(answer.body) : answer.body,
      raw: answer.rawPayload,
    };
  };
  const tokenOf: World['tokenOf'] = async (role, analysers) => {
    const answer = await ask('POST', '/api/v1/tokens', {
      body: { name: `${role} token`, role, ...(analysers ? { analysers } : {}) },
    });
    return answer.body.token;
  };
  return {
    app,
    db,
    url: fresh.url,
    nudged,
    at: (time) => {
      now = time;
    },
    ask,
    tokenOf,
    close: async () => {
      await app.close();
      await db.close();
      await fresh.drop();
    },
  };
};

/** The fleet of the interface's own description, with a second area. */
export const FLEET = {
  areas: [
    { id: 'north', name: 'North hall', timeZone: 'Europe/Oslo', shifts: ['06:00', '14:00', '22:00'] },
    { id: 'south' },
  ],
  chambers: [
    {
      id: 'n-prep-1',
      name: 'Preparation 1',
      area: 'north',
      kind: 'preparation',
      volumeLitres: 42,
      pumpingSpeedLitresPerSecond: { N2: 260, H2: 200, Ar: 250 },
      gases: ['SF6'],
      tags: ['uhv'],
    },
    { id: 's-load-1', area: 'south' },
  ],
  analysers: [
    {
      id: 'n-prep-1-a',
      chamber: 'n-prep-1',
      principle: 'quadrupole',
      massRange: [1, 100],
      sensitivityAmperesPerPascal: 7.5e-7,
      multiplierGain: 1000,
      transmissionExponent: 0,
    },
    { id: 'n-prep-1-b', chamber: 'n-prep-1', principle: 'ion trap', massRange: [1, 135] },
    { id: 's-load-1-a', chamber: 's-load-1' },
  ],
};

export const aScan = (changed: Record<string, unknown> = {}): Record<string, unknown> => ({
  analyser: 'n-prep-1-a',
  id: `scan-${randomBytes(6).toString('hex')}`,
  at: '2026-03-02T11:00:00Z',
  seconds: 20,
  masses: { first: 1, last: 5, perUnit: 1 },
  values: [1e-11, 2e-10, null, -3e-13, 0],
  unit: 'A',
  ...changed,
});

export interface TestReading {
  chamber?: string;
  analyser?: string;
  at: Date;
  scanId?: string;
  state?: string;
  /** Gas → value, or an upper limit where it was not detected. Pa. */
  gases?: Record<string, number | { below: number }>;
  gaugePa?: number | null;
  floorPa?: number | null;
  kappa?: number | null;
  detector?: string | null;
  massOffsetU?: number | null;
  widthU?: number | null;
  readNoisePa?: number | null;
  gain?: number | null;
  chiSquarePerDof?: number | null;
  calibrationVersion?: string;
}

const estimatesOf = (gases: NonNullable<TestReading['gases']>) =>
  Object.entries(gases).map(([gas, value]) =>
    typeof value === 'number'
      ? { gas, valuePa: value, lowPa: value * 0.8, highPa: value * 1.25, sigmaPa: value * 0.02, detected: true }
      : { gas, valuePa: 0, lowPa: 0, highPa: value.below, sigmaPa: value.below / 3, detected: false },
  );

/** Stores readings as analysed, and the newest of each analyser as its latest. */
export const putReadings = async ({ db }: World, readings: readonly TestReading[]): Promise<void> => {
  const { sql } = db;
  await ensurePartitionsFor(
    sql,
    readings.map(({ at }) => at.getTime()),
  );
  const lists = new Map<string, number>();
  for (const reading of readings) {
    const { chamber = 'n-prep-1', analyser = 'n-prep-1-a', at, state = 'base', gases = { N2: 1e-7 } } = reading;
    const scanId = reading.scanId ?? `s${at.getTime()}`;
    const names = Object.keys(gases);
    const key = names.join();
    if (!lists.has(key)) {
      await sql`insert into gas_lists (gases) values (${names}::text[]) on conflict do nothing`;
      const [row] = await sql<{ id: number }[]>`select id from gas_lists where gases = ${names}::text[]`;
      lists.set(key, row?.id ?? 0);
    }
    const list = lists.get(key) as number;
    const { estimates, detected } = packEstimates(estimatesOf(gases));
    const gauge = reading.gaugePa ?? null;
    const { floorPa = 1e-11, kappa = 1, calibrationVersion = `${analyser}/1` } = reading;
    const { detector = null, massOffsetU = null, widthU = null, readNoisePa = null } = reading;
    const { gain = null, chiSquarePerDof = null } = reading;
    await sql`
      insert into readings (chamber, analyser, at, scan_id, state, gas_list, estimates, detected, gauge_pa, sum_pa,
        floor_pa, decades, unexplained, kappa, detector, mass_offset_u, width_u, read_noise_pa, gain, chi_square_per_dof,
        notes, calibration_version, catalogue_version, judged)
      values (${chamber}, ${analyser}, ${at}, ${scanId}, ${state}, ${list}, ${estimates}, ${detected}, ${gauge}, 1e-6,
        ${floorPa}, 5, 0.01, ${kappa}, ${detector}, ${massOffsetU}, ${widthU}, ${readNoisePa}, ${gain},
        ${chiSquarePerDof}, '[]', ${calibrationVersion}, 'catalogue-1', true)`;
    await sql`
      insert into latest (chamber, analyser, at, scan_id, state, state_since, scan_period_seconds, gas_list, estimates,
        detected, gauge_pa, sum_pa, floor_pa, decades, unexplained, kappa, notes, strip, learning, received_at)
      values (${chamber}, ${analyser}, ${at}, ${scanId}, ${state}, ${at}, 60, ${list}, ${estimates}, ${detected},
        ${gauge}, 1e-6, ${floorPa}, 5, 0.01, ${kappa}, '[]',
        ${sql.json(names.map((gas) => ({ gas, status: 'measured', decades: 0.1, halfWidth: 0.3 })))}, null, ${at})
      on conflict (chamber, analyser) do update set at = excluded.at, scan_id = excluded.scan_id,
        state = excluded.state, gas_list = excluded.gas_list, estimates = excluded.estimates,
        detected = excluded.detected, gauge_pa = excluded.gauge_pa, floor_pa = excluded.floor_pa,
        kappa = excluded.kappa, strip = excluded.strip
      where excluded.at >= latest.at`;
  }
};

/** How the newest scan of an analyser was measured, and what is known of the analyser itself. */
export interface TestMeasured {
  measurement?: Partial<StoredMeasurement>;
  instrument?: Partial<InstrumentView>;
  spectrum?: Partial<StoredSpectrum>;
  notes?: Note[];
  unexplained?: number;
}

const MEASUREMENT: StoredMeasurement = {
  detector: 'faraday',
  responseSeconds: 20,
  massScale: null,
  widthU: null,
  readNoisePa: 2e-12,
  noiseFrom: 'earlier scans',
  gain: null,
  noisePerGasPa: {},
  foot: null,
  desorbed: [],
  ownGas: [],
  leftOut: [],
  groups: [],
  candidates: [],
  chiSquarePerDof: 1.1,
};
const INSTRUMENT: InstrumentView = {
  gain: null,
  massScale: null,
  noise: null,
  kappa: null,
  allan: null,
  lookAlikes: [],
};
const SPECTRUM: StoredSpectrum = { scanId: 'newest', seconds: 20, averages: 1, detector: 'faraday', peaks: [] };

/** Needs a reading of the analyser first. */
export const putMeasured = async ({ db }: World, analyser: string, measured: TestMeasured): Promise<void> => {
  const { sql } = db;
  const json = (value: unknown) => sql.json(value as never);
  await sql`
    update latest set measurement = ${json({ ...MEASUREMENT, ...measured.measurement })},
      instrument = ${json({ ...INSTRUMENT, ...measured.instrument })},
      spectrum = ${json({ ...SPECTRUM, ...measured.spectrum })}, notes = ${json(measured.notes ?? [])},
      unexplained = ${measured.unexplained ?? 0.01}
    where analyser = ${analyser}`;
};

export interface TestAlert {
  id: string;
  chamber?: string;
  signature?: string;
  gases?: string[];
  priority?: string;
  state?: string;
  raisedAt?: Date;
  summary?: string;
}

export const FINDING = {
  summary: 'Air is leaking in and growing.',
  sureness: 'nearly certain',
  firstStep: 'First close valve V2.',
  settle: 'Helium settles it.',
  evidence: [{ name: 'N2 over O2', value: 3.7, low: 3.2, high: 4.1, unit: '1', expected: '3.7', verdict: 'as of air' }],
  leakRate: { value: 1.1e-7, low: 8e-8, high: 1.5e-7, unit: 'Pa*m3/s' },
  alternatives: [{ signature: 'gas-inleak', why: 'argon would be missing' }],
};

/** An open alert as the workers raise it, with its first move. */
export const putAlert = async ({ db }: World, alert: TestAlert): Promise<void> => {
  const { sql } = db;
  const { id, chamber = 'n-prep-1', signature = 'air-leak', gases = ['N2', 'O2', 'Ar'], priority = 'high' } = alert;
  const raisedAt = alert.raisedAt ?? new Date('2026-03-02T10:00:00Z');
  const state = alert.state ?? 'unacknowledged';
  const finding = { ...FINDING, summary: alert.summary ?? FINDING.summary };
  await sql`
    insert into alerts (chamber, id, analyser, signature, gases, priority, state, raised_at, active, held_by, finding)
    values (${chamber}, ${id}, 'n-prep-1-a', ${signature}, ${gases}::text[], ${priority}, ${state}, ${raisedAt}, true,
      '{n-prep-1-a}', ${sql.json(finding)})`;
  await sql`
    insert into alert_moves (chamber, alert, seq, at, by, move, from_state, to_state)
    values (${chamber}, ${id}, 1, ${raisedAt}, null, 'raise', null, 'unacknowledged')`;
};
