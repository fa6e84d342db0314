/** Baselines that an engineer pins: a clean period is chosen, a worker learns from it, the engineer puts it in force. */
import { DecidePin, NewPin, Pin, UsualNow } from '../../shared/contract/rehearsal.ts';
import { object, Type } from '../../shared/contract/schema.ts';
import { decidePin, insertPin, listPins, type PinDecision, type PinRow } from '../../shared/db/pins.ts';
import { insertTask } from '../../shared/db/tasks.ts';
import { whoAsks } from '../access.ts';
import { AnalyserParams, findAnalyser, type KnownAnalyser } from '../analysers.ts';
import { audited } from '../audit.ts';
import type { App, Deps } from '../deps.ts';
import { conflict, impossible, malformed, notFound } from '../errors.ts';
import { iso, parseInstant } from '../instant.ts';
import { nudgeWithin } from '../nudge.ts';
import { type BaselineRow, presentPin, presentUsual } from '../presentPin.ts';
import { newId } from '../secrets.ts';

const PinParams = object({ ...AnalyserParams.properties, pin: Type.String({ maxLength: 64 }) });
const tags = ['baselines'];

const instantOf = (path: string, text: string): Date => {
  const ms = parseInstant(text);
  if (ms === null) throw malformed(path, 'must be a time as in RFC 3339, with Z or an offset');
  return new Date(ms);
};

const said = (note: string): string => {
  if (note.trim() === '') throw impossible('/note', 'must not be empty');
  return note;
};

/** @throws 422 where there is nothing to learn from */
const checkScans = async ({ db }: Deps, { chamber, id }: KnownAnalyser, { from, to }: { from: Date; to: Date }) => {
  const found = await db.sql`
    select 1 from scans where chamber = ${chamber} and analyser = ${id} and at between ${from} and ${to} limit 1`;
  if (found.length === 0) throw impossible('/from', `there are no scans of ${id} from then to the end of the span`);
};

const askRoute = (app: App, deps: Deps): void => {
  app.post(
    '/api/v1/analysers/:id/pins',
    {
      schema: {
        summary: 'Learn a baseline anew from a period; it is proposed, and comes into force by a decision',
        tags,
        params: AnalyserParams,
        body: NewPin,
        response: { 202: Pin },
      },
      config: { policy: 'engineer' },
    },
    async (request, reply) => {
      const analyser = await findAnalyser(deps, request.params.id);
      const { state: operatingState } = request.body;
      const note = said(request.body.note);
      const period = { from: instantOf('/from', request.body.from), to: instantOf('/to', request.body.to) };
      if (period.to <= period.from) throw impossible('/to', 'must lie after from');
      await checkScans(deps, analyser, period);
      const setAt = deps.now();
      const { name: setBy } = whoAsks(request);
      const { chamber } = analyser;
      const row = await deps.db.transaction(async (tx) => {
        const span = { scansFrom: period.from, scansTo: period.to };
        const pin = await insertPin(tx, {
          id: newId('pin'),
          chamber,
          analyser: analyser.id,
          operatingState,
          ...span,
          note,
          setAt,
          setBy,
        });
        const inner = { kind: 'baseline', pin: pin.id } as const;
        const whose = { chamber, analyser: analyser.id, id: newId('task') };
        await insertTask(tx, { ...whose, request: inner, askedAt: setAt, askedBy: setBy });
        const detail = { analyser: analyser.id, id: pin.id, operatingState, ...span, note };
        await audited(tx, { at: setAt, by: setBy, what: 'baseline pin asked for', detail });
        return pin;
      });
      await nudgeWithin(deps, [chamber]);
      return reply.code(202).send(presentPin(row));
    },
  );
};

/** Why a decision comes too late: what has become of the pin, through whom and when. */
const tooLate = ({ state, problem, decidedBy, decidedAt }: PinRow): string => {
  if (state === 'waiting') return 'This pin is still being worked out.';
  if (state === 'failed') return `Nothing was learned for this pin: ${problem ?? 'no reason was given'}`;
  const done = {
    'in-force': 'is in force already',
    replaced: 'was replaced by a later one',
    withdrawn: 'was withdrawn',
  };
  const who = decidedBy === null || decidedAt === null ? '' : ` (${decidedBy}, ${iso(decidedAt)})`;
  return `This pin ${done[state as keyof typeof done]}${who}.`;
};

const decide = async (deps: Deps, decision: PinDecision): Promise<Pin> => {
  const { id, analyser, at, by, note, state } = decision;
  const decided = await deps.db.transaction(async (tx) => {
    const row = await decidePin(tx, decision);
    if (row === null || 'refused' in row) return row;
    const what = state === 'in-force' ? 'baseline pin put in force' : 'baseline pin withdrawn';
    const { version, operatingState, validFrom } = row;
    await audited(tx, { at, by, what, detail: { analyser, id, version, operatingState, validFrom, note } });
    return row;
  });
  if (decided === null) throw notFound(`Analyser ${analyser} has no pin ${id}.`);
  if ('refused' in decided) throw conflict(tooLate(decided.refused));
  return presentPin(decided);
};

const decisionRoutes = (app: App, deps: Deps): void => {
  const route = { tags, params: PinParams, body: DecidePin, response: { 200: Pin } };
  const config = { policy: 'engineer' } as const;
  const decisions = [
    ['enforce', 'in-force', 'Put a proposed pin in force, for scans from now on; it replaces the one before'],
    ['withdraw', 'withdrawn', 'Withdraw a pin that is not in force'],
  ] as const;
  for (const [verb, state, summary] of decisions)
    app.post(`/api/v1/analysers/:id/pins/:pin/${verb}`, { schema: { ...route, summary }, config }, async (request) => {
      const { id: analyser } = await findAnalyser(deps, request.params.id);
      const { name: by } = whoAsks(request);
      const note = said(request.body.note);
      return await decide(deps, { id: request.params.pin, analyser, at: deps.now(), by, note, state });
    });
};

export const pinRoutes = (app: App, deps: Deps): void => {
  const { sql } = deps.db;
  askRoute(app, deps);
  decisionRoutes(app, deps);
  app.get(
    '/api/v1/analysers/:id/pins',
    {
      schema: {
        summary: 'Every pin of an analyser, newest first, and what is usual now; Pa',
        tags,
        params: AnalyserParams,
        response: { 200: object({ pins: Type.Array(Pin), usual: Type.Array(UsualNow) }) },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { chamber, id } = await findAnalyser(deps, request.params.id);
      const [pins, usual] = await Promise.all([
        listPins(sql, id),
        sql<BaselineRow[]>`
          select state, since, until, gases from baselines where chamber = ${chamber} and analyser = ${id} order by state`,
      ]);
      return { pins: pins.map(presentPin), usual: usual.map(presentUsual) };
    },
  );
};
