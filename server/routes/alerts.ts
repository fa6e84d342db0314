/** Alerts: which there are, why, and what people do with them. */
import { AcknowledgeBody, Alert, AlertMove, CloseBody, ShelveBody } from '../../shared/contract/alerts.ts';
import { Instant, object, Type } from '../../shared/contract/schema.ts';
import { ALERT_STATES, SIGNATURES } from '../../shared/contract/words.ts';
import { listAlerts, moveByPerson, readAlert, readMoves } from '../../shared/db/alertLists.ts';
import { type AlertMoveRequest, LONGEST_SHELVING_MS } from '../../shared/watch/lifecycle.ts';
import { whoAsks } from '../access.ts';
import type { App, Deps } from '../deps.ts';
import { conflict, impossible, malformed, notFound } from '../errors.ts';
import { parseInstant, queryInstant } from '../instant.ts';
import { presentAlert, presentMove } from '../presentAlert.ts';

const MOST_ALERTS = 10_000;
const AlertParams = object({ id: Type.String({ maxLength: 64 }) });

/** A comma-separated list of words of the contract. @throws 400 naming the word that is none */
const wordsOf = (name: string, asked: string | undefined, known: readonly string[]): string[] | undefined => {
  if (asked === undefined) return undefined;
  const words = asked.split(',').map((word) => word.trim());
  const strange = words.find((word) => !known.includes(word));
  if (strange !== undefined) throw malformed(name, `"${strange}" is not one of ${known.join(', ')}`);
  return words;
};

interface Asked {
  id: string;
  by: string;
  move: AlertMoveRequest;
  note: string | null;
}

const move = async ({ db }: Deps, asked: Asked): Promise<Alert> => {
  const moved = await db.transaction((tx) => moveByPerson(tx, asked));
  if (moved === null) throw notFound(`There is no alert ${asked.id}.`);
  if ('refused' in moved) throw conflict(`This alert cannot be moved: ${moved.refused}.`);
  return presentAlert(moved);
};

/** @throws 400 or 422 for a time that shelving cannot end at */
const shelvingEnd = (until: string, nowMs: number): number => {
  const untilMs = parseInstant(until);
  if (untilMs === null) throw malformed('/until', 'must be a time as in RFC 3339, with Z or an offset');
  if (untilMs <= nowMs) throw impossible('/until', 'lies in the past');
  if (untilMs - nowMs > LONGEST_SHELVING_MS) throw impossible('/until', 'lies more than seven days ahead');
  return untilMs;
};

const listRoutes = (app: App, { db }: Deps): void => {
  app.get(
    '/api/v1/alerts',
    {
      schema: {
        summary: 'Alerts, newest first. `from` and `to` bound the time when they were raised',
        tags: ['alerts'],
        querystring: object({
          chamber: Type.Optional(Type.String({ maxLength: 64 })),
          state: Type.Optional(Type.String({ maxLength: 200, description: 'One or more, comma-separated' })),
          signature: Type.Optional(Type.String({ maxLength: 500, description: 'One or more, comma-separated' })),
          from: Type.Optional(Instant),
          to: Type.Optional(Instant),
          limit: Type.Optional(Type.Integer({ minimum: 1, maximum: MOST_ALERTS, default: MOST_ALERTS })),
        }),
        response: { 200: object({ alerts: Type.Array(Alert) }) },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { chamber, state, signature, from, to, limit = MOST_ALERTS } = request.query;
      const rows = await listAlerts(db.sql, {
        chamber,
        states: wordsOf('state', state, ALERT_STATES),
        signatures: wordsOf('signature', signature, SIGNATURES),
        from: queryInstant('from', from) ?? undefined,
        to: queryInstant('to', to) ?? undefined,
        limit,
      });
      return { alerts: rows.map(presentAlert) };
    },
  );

  app.get(
    '/api/v1/alerts/:id',
    {
      schema: {
        summary: 'One alert with every move of its life',
        tags: ['alerts'],
        params: AlertParams,
        response: { 200: object({ ...Alert.properties, moves: Type.Array(AlertMove) }) },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const row = await readAlert(db.sql, request.params.id);
      if (row === null) throw notFound(`There is no alert ${request.params.id}.`);
      const moves = await readMoves(db.sql, row);
      return { ...presentAlert(row), moves: moves.map(presentMove) };
    },
  );
};

const moveRoutes = (app: App, deps: Deps): void => {
  const route = { params: AlertParams, response: { 200: Alert }, tags: ['alerts'] };
  const config = { policy: 'operator' } as const;
  const atMs = () => deps.now().getTime();

  app.post(
    '/api/v1/alerts/:id/acknowledge',
    { schema: { ...route, summary: 'I have seen it', body: AcknowledgeBody }, config },
    (request) => {
      const { name: by } = whoAsks(request);
      const { note = '' } = request.body;
      return move(deps, { id: request.params.id, by, move: { kind: 'acknowledge', atMs: atMs(), by, note }, note });
    },
  );

  app.post(
    '/api/v1/alerts/:id/shelve',
    { schema: { ...route, summary: 'Put it away until a time, at most seven days', body: ShelveBody }, config },
    (request) => {
      const { name: by } = whoAsks(request);
      const { until, reason } = request.body;
      if (reason.trim() === '') throw impossible('/reason', 'must not be empty');
      const nowMs = atMs();
      const untilMs = shelvingEnd(until, nowMs);
      const asked = { kind: 'shelve', atMs: nowMs, by, untilMs, reason } as const;
      return move(deps, { id: request.params.id, by, move: asked, note: reason });
    },
  );

  app.post(
    '/api/v1/alerts/:id/unshelve',
    { schema: { ...route, summary: 'Take it back before its time', body: object({}) }, config },
    (request) => {
      const { name: by } = whoAsks(request);
      return move(deps, { id: request.params.id, by, move: { kind: 'unshelve', atMs: atMs(), by }, note: null });
    },
  );

  app.post(
    '/api/v1/alerts/:id/close',
    { schema: { ...route, summary: 'It is over; this was the cause', body: CloseBody }, config },
    (request) => {
      const { name: by } = whoAsks(request);
      const { cause, note = '' } = request.body;
      if (cause.trim() === '') throw impossible('/cause', 'must not be empty');
      const asked = { kind: 'close', atMs: atMs(), by, cause, note } as const;
      return move(deps, { id: request.params.id, by, move: asked, note: note === '' ? cause : `${cause}: ${note}` });
    },
  );
};

export const alertRoutes = (app: App, deps: Deps): void => {
  listRoutes(app, deps);
  moveRoutes(app, deps);
};
