/** Calibrations of one analyser as history: what was set, proposed, put in force and withdrawn, and by whom. */
import {
  CalibrationEntry,
  type CalibrationKind,
  Enforce,
  NewCalibration,
  Withdraw,
} from '../../shared/contract/calibration.ts';
import { Note } from '../../shared/contract/readings.ts';
import { object, type Static, Type } from '../../shared/contract/schema.ts';
import {
  type CalibrationRow,
  type Decision,
  decideCalibration,
  insertCalibration,
  listCalibrations,
} from '../../shared/db/calibrations.ts';
import { whoAsks } from '../access.ts';
import { AnalyserParams, findAnalyser, type KnownAnalyser } from '../analysers.ts';
import { audited } from '../audit.ts';
import { ENFORCED, presentCalibration } from '../calibrationEntry.ts';
import { CALIBRATION_CAUTIONS } from '../cautions.ts';
import type { App, Deps } from '../deps.ts';
import { conflict, impossible, malformed, notFound } from '../errors.ts';
import { iso, parseInstant } from '../instant.ts';
import { newId } from '../secrets.ts';

const EntryParams = object({ ...AnalyserParams.properties, entry: Type.String({ maxLength: 64 }) });
const tags = ['calibration'];

/** Calibrations that are older than any scan here were mistyped; one for next week would be forgotten until then. */
const EARLIEST_MS = Date.UTC(2000, 0, 1);
const FARTHEST_AHEAD_MS = 86_400_000;

interface Validity {
  validFrom: Date;
  validTo: Date | null;
}

const instantOf = (path: string, text: string): Date => {
  const ms = parseInstant(text);
  if (ms === null) throw malformed(path, 'must be a time as in RFC 3339, with Z or an offset');
  return new Date(ms);
};

/** @throws 400 or 422 */
const validity = (asked: { validFrom: string; validTo?: string }, now: Date): Validity => {
  const validFrom = instantOf('/validFrom', asked.validFrom);
  const validTo = asked.validTo === undefined ? null : instantOf('/validTo', asked.validTo);
  if (validFrom.getTime() < EARLIEST_MS) throw impossible('/validFrom', 'lies before the year 2000');
  if (validFrom.getTime() > now.getTime() + FARTHEST_AHEAD_MS)
    throw impossible('/validFrom', 'lies more than a day ahead');
  if (validTo !== null && validTo <= validFrom) throw impossible('/validTo', 'must lie after validFrom');
  return { validFrom, validTo };
};

const GREATEST: Partial<Record<CalibrationKind, number>> = { sensitivity: 1, gain: 1e9, 'gauge-factor': 1e6 };
/** As in the fleet document. */
const STEEPEST_TRANSMISSION = 5;

/** @throws 422 for a number that physics does not allow for this kind on this analyser */
const checkValue = ({ kind, value }: Static<typeof NewCalibration>, { document }: KnownAnalyser): void => {
  if (kind === 'transmission') {
    if (Math.abs(value) > STEEPEST_TRANSMISSION) throw impossible('/value', 'must lie between -5 and 5');
    return;
  }
  if (!(value > 0)) throw impossible('/value', 'must be greater than 0');
  const most = GREATEST[kind];
  if (most !== undefined && value > most) throw impossible('/value', `must be at most ${most}`);
  if (document.principle === 'ion trap' && (kind === 'sensitivity' || kind === 'gain'))
    throw impossible('/kind', `an ion trap gives shares, which are scaled to the gauge: it has no ${kind}`);
};

const words = (note: string): string => {
  if (note.trim() === '') throw impossible('/note', 'must not be empty');
  return note;
};

interface Entering {
  analyser: KnownAnalyser;
  body: Static<typeof NewCalibration>;
  at: Date;
  by: string;
}

const entered = ({ analyser, body, at, by }: Entering): CalibrationRow => {
  checkValue(body, analyser);
  return {
    chamber: analyser.chamber,
    analyser: analyser.id,
    id: newId('cal'),
    kind: body.kind,
    gas: null,
    value: { value: body.value, relativeUncertainty: body.relativeUncertainty ?? null },
    source: body.source,
    note: words(body.note),
    state: 'in-force',
    ...validity(body, at),
    setAt: at,
    setBy: by,
    decidedAt: at,
    decidedBy: by,
    decisionNote: null,
    scansFrom: null,
    scansTo: null,
    scanCount: null,
  };
};

/** Why a decision comes too late: what the entry is by now, through whom and when. */
const tooLate = ({ state, decidedBy, decidedAt }: CalibrationRow): string => {
  const done = state === 'withdrawn' ? 'was withdrawn' : 'is in force already';
  const who = decidedBy === null ? '' : `, by ${decidedBy}`;
  return `This calibration ${done}${who}${decidedAt === null ? '' : ` on ${iso(decidedAt)}`}.`;
};

const decide = async ({ db }: Deps, decision: Decision): Promise<CalibrationEntry> => {
  const { id, analyser, at, by, state, note } = decision;
  const decided = await db.transaction(async (tx) => {
    const row = await decideCalibration(tx, decision);
    if (row === null || 'refused' in row) return row;
    const what = state === 'in-force' ? ENFORCED : 'calibration withdrawn';
    const { kind, gas, validFrom, validTo } = row;
    await audited(tx, { at, by, what, detail: { analyser, id, kind, gas, validFrom, validTo, note } });
    return row;
  });
  if (decided === null) throw notFound(`Analyser ${analyser} has no calibration ${id}.`);
  if ('refused' in decided) throw conflict(tooLate(decided.refused));
  return presentCalibration(decided);
};

const decisionRoutes = (app: App, deps: Deps): void => {
  const route = { tags, params: EntryParams, response: { 200: CalibrationEntry } };
  const config = { policy: 'engineer' } as const;

  app.post(
    '/api/v1/analysers/:id/calibrations/:entry/enforce',
    { schema: { ...route, summary: 'Put a proposed calibration in force', body: Enforce }, config },
    async (request) => {
      const at = deps.now();
      const { id: analyser } = await findAnalyser(deps, request.params.id);
      const note = words(request.body.note);
      const span = validity(request.body, at);
      const { by } = whoAsks(request);
      return decide(deps, { id: request.params.entry, analyser, at, by, state: 'in-force', ...span, note });
    },
  );

  app.post(
    '/api/v1/analysers/:id/calibrations/:entry/withdraw',
    {
      schema: { ...route, summary: 'Withdraw a calibration; readings keep what they were made with', body: Withdraw },
      config,
    },
    async (request) => {
      const { id: analyser } = await findAnalyser(deps, request.params.id);
      const note = words(request.body.note);
      const { by } = whoAsks(request);
      return decide(deps, { id: request.params.entry, analyser, at: deps.now(), by, state: 'withdrawn', note });
    },
  );
};

export const calibrationRoutes = (app: App, deps: Deps): void => {
  const { db, now } = deps;
  app.get(
    '/api/v1/analysers/:id/calibrations',
    {
      schema: {
        summary: 'Calibrations of an analyser, newest first; nothing is ever removed. Notes: what to mind',
        tags,
        params: AnalyserParams,
        response: { 200: object({ entries: Type.Array(CalibrationEntry), notes: Type.Array(Note) }) },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { id } = await findAnalyser(deps, request.params.id);
      const rows = await listCalibrations(db.sql, id);
      return { entries: rows.map(presentCalibration), notes: [...CALIBRATION_CAUTIONS] };
    },
  );

  app.post(
    '/api/v1/analysers/:id/calibrations',
    {
      schema: {
        summary: 'Enter a calibration; scans from validFrom on use it, stored readings stay as they are',
        tags,
        params: AnalyserParams,
        body: NewCalibration,
        response: { 201: CalibrationEntry },
      },
      config: { policy: 'engineer' },
    },
    async (request, reply) => {
      const analyser = await findAnalyser(deps, request.params.id);
      const at = now();
      const { by } = whoAsks(request);
      const row = entered({ analyser, body: request.body, at, by });
      await db.transaction(async (tx) => {
        await insertCalibration(tx, row);
        const { id, kind, value, source, validFrom, validTo, note } = row;
        const detail = { analyser: analyser.id, id, kind, value, source, validFrom, validTo, note };
        await audited(tx, { at, by, what: 'calibration entered', detail });
      });
      return reply.code(201).send(presentCalibration(row));
    },
  );
  decisionRoutes(app, deps);
};
