/** Judges what a person asks the workers to work out, before anybody waits for it. */
import { resolveGas } from '../shared/catalogue/select.ts';
import type { NewTask } from '../shared/contract/calibration.ts';
import { MOST_MARKED_SCANS, MOST_RECOMPUTED_SCANS } from '../shared/db/tasks.ts';
import type { KnownAnalyser } from './analysers.ts';
import type { Deps } from './deps.ts';
import { impossible, malformed } from './errors.ts';
import { iso, parseInstant } from './instant.ts';

type Of<Kind extends NewTask['kind']> = Extract<NewTask, { kind: Kind }>;

interface Asked<T extends NewTask> {
  deps: Deps;
  analyser: KnownAnalyser;
  request: T;
}

interface Period {
  from: Date;
  to: Date;
}

const instantOf = (path: string, text: string): Date => {
  const ms = parseInstant(text);
  if (ms === null) throw malformed(path, 'must be a time as in RFC 3339, with Z or an offset');
  return new Date(ms);
};

const periodOf = (request: { from: string; to: string }): Period => {
  const period = { from: instantOf('/from', request.from), to: instantOf('/to', request.to) };
  if (period.to < period.from) throw impossible('/to', 'must not lie before from');
  return period;
};

const said = (note: string): string => {
  if (note.trim() === '') throw impossible('/note', 'must not be empty');
  return note;
};

/** Scans of the period, counted no further than one beyond `most`. */
const countUpTo = async ({ db }: Deps, at: { chamber: string; analyser: string } & Period, most: number) => {
  const [row] = await db.sql<{ n: number }[]>`
    select count(*)::int as n from (
      select 1 from scans where chamber = ${at.chamber} and analyser = ${at.analyser}
        and at between ${at.from} and ${at.to} limit ${most + 1}) as s`;
  return row?.n ?? 0;
};

/** @throws 422 where there is nothing to work with, or more than is worked through at once */
const checkScans = async (deps: Deps, at: { chamber: string; analyser: string } & Period, most: number) => {
  const count = await countUpTo(deps, at, most);
  if (count === 0) throw impossible('/from', `there are no scans of ${at.analyser} from then to the end of the span`);
  if (count > most)
    throw impossible('/to', `the span holds more than ${most} scans of ${at.analyser}: choose a shorter one`);
};

const pattern = async ({ deps, analyser, request }: Asked<Of<'pattern'>>): Promise<NewTask> => {
  const gas = resolveGas(request.gas);
  if (gas === null) throw impossible('/gas', `${request.gas} is not in the catalogue (see GET /api/v1/gases)`);
  const period = periodOf(request);
  const note = said(request.note);
  await checkScans(deps, { chamber: analyser.chamber, analyser: analyser.id, ...period }, MOST_MARKED_SCANS);
  return { ...request, gas, note, from: iso(period.from), to: iso(period.to) };
};

/** @throws 422 for an analyser that cannot be the one that is trusted */
const checkOther = async ({ deps, analyser, request }: Asked<Of<'background'>>): Promise<void> => {
  const { source, other } = request;
  if (source === 'closed valve') {
    if (other !== undefined) throw impossible('/other', 'is for a second analyser; the valve was closed here');
    return;
  }
  if (other === undefined) throw impossible('/other', 'is missing: name the analyser that is trusted');
  if (other === analyser.id) throw impossible('/other', 'is the analyser itself');
  const [row] = await deps.db.sql<{ chamber: string }[]>`select chamber from analysers where id = ${other}`;
  if (!row) throw impossible('/other', `there is no analyser ${other}`);
  if (row.chamber !== analyser.chamber)
    throw impossible('/other', `${other} looks into another chamber, ${row.chamber}`);
};

const background = async (asked: Asked<Of<'background'>>): Promise<NewTask> => {
  const { deps, analyser, request } = asked;
  await checkOther(asked);
  const period = periodOf(request);
  const note = said(request.note);
  for (const one of request.other === undefined ? [analyser.id] : [analyser.id, request.other])
    await checkScans(deps, { chamber: analyser.chamber, analyser: one, ...period }, MOST_MARKED_SCANS);
  return { ...request, note, from: iso(period.from), to: iso(period.to) };
};

const recomputation = async ({ deps, analyser, request }: Asked<Of<'recomputation'>>): Promise<NewTask> => {
  const period = periodOf(request);
  const note = said(request.note);
  const of = request.calibrationOf === undefined ? null : instantOf('/calibrationOf', request.calibrationOf);
  await checkScans(deps, { chamber: analyser.chamber, analyser: analyser.id, ...period }, MOST_RECOMPUTED_SCANS);
  const times = { from: iso(period.from), to: iso(period.to), ...(of === null ? {} : { calibrationOf: iso(of) }) };
  return { ...request, note, ...times };
};

const change = async ({ deps, analyser, request }: Asked<Of<'change'>>): Promise<NewTask> => {
  const before = instantOf('/before', request.before);
  const after = instantOf('/after', request.after);
  if (after <= before) throw impossible('/after', 'must lie after before');
  const [row] = await deps.db.sql<{ earlier: boolean; later: boolean }[]>`
    select
      exists (select 1 from scans
        where chamber = ${analyser.chamber} and analyser = ${analyser.id} and at <= ${before}) as earlier,
      exists (select 1 from scans
        where chamber = ${analyser.chamber} and analyser = ${analyser.id} and at >= ${after}) as later`;
  if (!row?.earlier) throw impossible('/before', `there is no scan of ${analyser.id} at or before this time`);
  if (!row.later) throw impossible('/after', `there is no scan of ${analyser.id} at or after this time`);
  return { kind: 'change', before: iso(before), after: iso(after) };
};

/**
 * The request as it is stored: gases by their id, times in UTC.
 * @throws 400 or 422 naming the field and the reason
 */
export const judgeTask = ({ deps, analyser, request }: Asked<NewTask>): Promise<NewTask> => {
  switch (request.kind) {
    case 'pattern':
      return pattern({ deps, analyser, request });
    case 'background':
      return background({ deps, analyser, request });
    case 'recomputation':
      return recomputation({ deps, analyser, request });
    case 'change':
      return change({ deps, analyser, request });
  }
};
