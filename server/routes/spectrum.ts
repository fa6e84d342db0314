/** The peaks of a scan and what explains them, and the scan as it was sent: the newest, or any earlier one. */
import { Spectrum, SpectrumWaiting, StoredScan } from '../../shared/contract/readings.ts';
import { Instant, object, Type } from '../../shared/contract/schema.ts';
import type { OperatingState, PressureUnit, ScanUnit } from '../../shared/contract/words.ts';
import { readSpectra } from '../../shared/db/chamberFacts.ts';
import {
  countWaitingSpectra,
  readScanAt,
  readSpectrumTask,
  type ScanFound,
  type WorkedSpectrum,
} from '../../shared/db/scanSpectra.ts';
import type { StoredSpectrum } from '../../shared/db/tables.ts';
import { insertTask } from '../../shared/db/tasks.ts';
import { whoAsks } from '../access.ts';
import type { App, Deps } from '../deps.ts';
import { notFound, ProblemError } from '../errors.ts';
import { iso, isoOrNull, queryInstant } from '../instant.ts';
import { nudgeWithin } from '../nudge.ts';
import { plain, pressure } from '../present.ts';
import { newId } from '../secrets.ts';
import { analyserOf } from '../trend.ts';
import { ChamberParams } from './chambers.ts';
import { latestOf, Which } from './readings.ts';

/** More that wait for one analyser were asked for by a program gone wrong. */
const MOST_WAITING = 20;
const RETRY_S = 5;

interface Drawn {
  at: Date;
  analyser: string;
  unit: PressureUnit;
  floorPa: number | null;
}

const present = ({ at, analyser, unit, floorPa }: Drawn, spectrum: StoredSpectrum): Spectrum => ({
  at: iso(at),
  analyser,
  unit,
  scanId: spectrum.scanId,
  seconds: spectrum.seconds,
  averages: spectrum.averages,
  detector: spectrum.detector,
  floor: pressure(floorPa, unit),
  peaks: spectrum.peaks.map((peak) => ({
    ...peak,
    value: pressure(peak.value, unit),
    sigma: pressure(peak.sigma, unit),
    baseline: pressure(peak.baseline, unit),
  })),
});

const again = ({ calibrationVersion, catalogueVersion }: WorkedSpectrum) => ({
  again: { calibrationVersion, catalogueVersion },
});

interface EarlierAsked {
  deps: Deps;
  chamber: string;
  analyser: string;
  scan: ScanFound;
  by: string;
}

/** Asks the workers, unless somebody has: two who look at the same scan wait for one piece of work. */
const askFor = async ({ deps, chamber, analyser, scan, by }: EarlierAsked): Promise<void> => {
  if ((await countWaitingSpectra(deps.db.sql, analyser)) >= MOST_WAITING)
    throw new ProblemError(429, `${MOST_WAITING} earlier scans of ${analyser} are being worked out already.`, {
      retryAfterSeconds: RETRY_S,
    });
  const request = { kind: 'spectrum', at: iso(scan.at) } as const;
  await deps.db.transaction((tx) =>
    insertTask(tx, { chamber, analyser, id: newId('task'), request, askedAt: deps.now(), askedBy: by }),
  );
  await nudgeWithin(deps, [chamber]);
};

const earlier = async (asked: EarlierAsked, unit: PressureUnit): Promise<Spectrum | SpectrumWaiting> => {
  const { deps, chamber, analyser, scan } = asked;
  const task = await readSpectrumTask(deps.db.sql, { chamber, analyser, at: scan.at });
  if (task === null) await askFor(asked);
  if (task === null || task.state === 'waiting') return { state: 'waiting', at: iso(scan.at) };
  if (task.result === null) throw notFound(task.problem ?? 'This scan could not be worked out.');
  const { result } = task;
  const drawn = { at: scan.at, analyser, unit, floorPa: result.floorPa };
  return { ...present(drawn, result.spectrum), ...again(result) };
};

const spectrumRoute = (app: App, deps: Deps): void => {
  app.get(
    '/api/v1/chambers/:id/spectrum',
    {
      schema: {
        summary: 'Peaks of the newest scan and what explains them; with `at` of the last one at or before it',
        description:
          'Only the peaks of the newest scan are kept. Those of an earlier one are worked out by a worker when somebody ' +
          'asks: 202 until they are there, then 200 with `again`, the versions that they were worked out with.',
        tags: ['readings'],
        params: ChamberParams,
        querystring: object({ ...Which.properties, at: Type.Optional(Instant) }),
        response: { 200: Spectrum, 202: SpectrumWaiting },
      },
      config: { policy: 'viewer' },
    },
    async (request, reply) => {
      const { id } = request.params;
      const { unit = 'Pa' } = request.query;
      const at = queryInstant('at', request.query.at);
      const { analyser } = await latestOf(deps, id, request.query.analyser);
      const newest = (await readSpectra(deps.db.sql, id)).find((one) => one.analyser === analyser);
      if (at === null || (newest && at >= newest.at)) {
        if (!newest?.spectrum) throw notFound(`The newest scan of ${analyser} gave no peaks; see its notes.`);
        return present({ ...newest, unit }, newest.spectrum);
      }
      const scan = await readScanAt(deps.db.sql, { chamber: id, analyser, at });
      if (scan === null) throw notFound(`There is no scan of ${analyser} at or before ${iso(at)}.`);
      const asked = { deps, chamber: id, analyser, scan, by: whoAsks(request).by };
      const found = await earlier(asked, unit);
      if ('peaks' in found) return found;
      return reply.code(202).send(found);
    },
  );
};

/** Masses of a scan one by one. */
const massesOf = ({ masses, values }: ScanFound): number[] =>
  'perUnit' in masses
    ? Array.from(values, (_, i) => Math.round((masses.first + i / masses.perUnit) * 1e4) / 1e4)
    : [...masses];

const scanRoute = (app: App, deps: Deps): void => {
  app.get(
    '/api/v1/chambers/:id/scan',
    {
      schema: {
        summary:
          'A scan as it was sent: the newest, or the last one at or before `at`; with the times of its neighbours',
        tags: ['readings'],
        params: ChamberParams,
        querystring: object({
          analyser: Type.Optional(Type.String({ maxLength: 64 })),
          at: Type.Optional(Instant),
        }),
        response: { 200: StoredScan },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { id } = request.params;
      const at = queryInstant('at', request.query.at);
      const analyser = await analyserOf(deps, id, request.query.analyser);
      const scan = await readScanAt(deps.db.sql, { chamber: id, analyser, at });
      if (scan === null)
        throw notFound(`There is no scan of ${analyser}${at === null ? '' : ` at or before ${iso(at)}`}.`);
      return {
        at: iso(scan.at),
        analyser,
        scanId: scan.scanId,
        seconds: scan.seconds,
        averages: scan.averages,
        detector: scan.detector,
        state: scan.state as OperatingState | null,
        unit: scan.unit as ScanUnit,
        gaugePa: plain(scan.gaugePa),
        masses: massesOf(scan),
        values: Array.from(scan.values, (value) => plain(value)),
        previousAt: isoOrNull(scan.previousAt),
        nextAt: isoOrNull(scan.nextAt),
      };
    },
  );
};

export const spectrumRoutes = (app: App, deps: Deps): void => {
  spectrumRoute(app, deps);
  scanRoute(app, deps);
};
