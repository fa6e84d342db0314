/** What people do with an alert. A move that its state does not allow is 409 and says who was first. */
import {
  AcknowledgeBody,
  Alert,
  CloseBody,
  OutOfServiceBody,
  ResetBody,
  ShelveBody,
  VERIFIED_CAUSES,
} from '../../shared/contract/alerts.ts';
import { object, Type } from '../../shared/contract/schema.ts';
import { type AlertRow, moveByPerson, readAlert } from '../../shared/db/alertLists.ts';
import type { Transaction } from '../../shared/db/connect.ts';
import { endBreak, writeBreak } from '../../shared/db/serviceBreaks.ts';
import { LONGEST_BREAK_MS, LONGEST_SHELVING_MS } from '../../shared/watch/holds.ts';
import type { AlertMoveRequest } from '../../shared/watch/lifecycle.ts';
import { whoAsks } from '../access.ts';
import { readGroupOf } from '../alertGroups.ts';
import { audited } from '../audit.ts';
import type { App, Deps } from '../deps.ts';
import { conflict, impossible, malformed, notFound } from '../errors.ts';
import { iso, parseInstant } from '../instant.ts';
import { presentAlert } from '../presentAlert.ts';

export const AlertParams = object({ id: Type.String({ maxLength: 64 }) });

interface Asked {
  id: string;
  by: string;
  move: AlertMoveRequest;
  note: string | null;
}

type Refused = Extract<Awaited<ReturnType<typeof moveByPerson>>, { refused: string }>;

const refusal = ({ refused, last }: Refused) => {
  const first =
    last === null || refused.includes(last.by)
      ? ''
      : ` The last to move it was ${last.by}, at ${iso(last.at)} (${last.move}).`;
  return conflict(`This alert cannot be moved: ${refused}.${first}`);
};

/** @param then what belongs to the move, in its transaction */
const move = async (
  { db }: Deps,
  asked: Asked,
  then: (tx: Transaction, alert: AlertRow) => Promise<unknown> = async () => {},
): Promise<Alert> => {
  const moved = await db.transaction(async (tx) => {
    const row = await moveByPerson(tx, asked);
    if (row !== null && !('refused' in row)) await then(tx, row);
    return row;
  });
  if (moved === null) throw notFound(`There is no alert ${asked.id}.`);
  if ('refused' in moved) throw refusal(moved);
  return presentAlert(moved, (await readGroupOf(db.sql, [moved])).get(moved.id) ?? null);
};

/** @throws 400 or 422 for a time that it cannot end at */
const endOf = (until: string, nowMs: number, longest: { ms: number; said: string }): number => {
  const untilMs = parseInstant(until);
  if (untilMs === null) throw malformed('/until', 'must be a time as in RFC 3339, with Z or an offset');
  if (untilMs <= nowMs) throw impossible('/until', 'lies in the past');
  if (untilMs - nowMs > longest.ms) throw impossible('/until', `lies more than ${longest.said} ahead`);
  return untilMs;
};
const SHELVING = { ms: LONGEST_SHELVING_MS, said: '24 hours' };
const BREAK = { ms: LONGEST_BREAK_MS, said: '90 days' };

const notEmpty = (path: string, text: string): void => {
  if (text.trim() === '') throw impossible(path, 'must not be empty');
};

const route = { params: AlertParams, response: { 200: Alert }, tags: ['alerts'] };
const operator = { policy: 'operator' } as const;
const engineer = { policy: 'engineer' } as const;

const lookRoutes = (app: App, deps: Deps): void => {
  const atMs = () => deps.now().getTime();
  app.post(
    '/api/v1/alerts/:id/acknowledge',
    { schema: { ...route, summary: 'I have seen it', body: AcknowledgeBody }, config: operator },
    (request) => {
      const { name: by } = whoAsks(request);
      const { note = '' } = request.body;
      return move(deps, { id: request.params.id, by, move: { kind: 'acknowledge', atMs: atMs(), by, note }, note });
    },
  );

  app.post(
    '/api/v1/alerts/:id/reset',
    {
      schema: { ...route, summary: 'End a latched alert whose condition has returned', body: ResetBody },
      config: operator,
    },
    (request) => {
      const { name: by } = whoAsks(request);
      const { note = null } = request.body;
      return move(deps, { id: request.params.id, by, move: { kind: 'reset', atMs: atMs(), by }, note });
    },
  );

  app.post(
    '/api/v1/alerts/:id/close',
    { schema: { ...route, summary: 'It is over; this was the cause', body: CloseBody }, config: operator },
    (request) => {
      const { name: by } = whoAsks(request);
      const { cause, note = '' } = request.body;
      notEmpty('/cause', cause);
      const verified = request.body.verified ?? VERIFIED_CAUSES.find((word) => word === cause.trim()) ?? null;
      const asked = { kind: 'close', atMs: atMs(), by, cause, note, verified } as const;
      return move(deps, { id: request.params.id, by, move: asked, note: note === '' ? cause : `${cause}: ${note}` });
    },
  );
};

const shelfRoutes = (app: App, deps: Deps): void => {
  const atMs = () => deps.now().getTime();
  app.post(
    '/api/v1/alerts/:id/shelve',
    { schema: { ...route, summary: 'Put it away until a time, at most 24 hours', body: ShelveBody }, config: operator },
    (request) => {
      const { name: by } = whoAsks(request);
      const { until, reason } = request.body;
      notEmpty('/reason', reason);
      const nowMs = atMs();
      const untilMs = endOf(until, nowMs, SHELVING);
      const asked = { kind: 'shelve', atMs: nowMs, by, untilMs, reason } as const;
      return move(deps, { id: request.params.id, by, move: asked, note: reason });
    },
  );

  app.post(
    '/api/v1/alerts/:id/unshelve',
    { schema: { ...route, summary: 'Take it back before its time', body: object({}) }, config: operator },
    (request) => {
      const { name: by } = whoAsks(request);
      return move(deps, { id: request.params.id, by, move: { kind: 'unshelve', atMs: atMs(), by }, note: null });
    },
  );
};

/** The break outlives the alert: what is raised of this signature in this chamber until its end calls nobody. */
const takeOut = (deps: Deps, id: string, asked: { by: string; nowMs: number; untilMs: number; reason: string }) => {
  const { by, nowMs, untilMs, reason } = asked;
  const [until, setAt] = [new Date(untilMs), new Date(nowMs)];
  const request = { kind: 'out-of-service', atMs: nowMs, by, untilMs, reason } as const;
  return move(deps, { id, by, move: request, note: reason }, async (tx, { chamber, signature }) => {
    await writeBreak(tx, { chamber, signature, until, reason, setAt, setBy: by });
    const detail = { chamber, signature, until: iso(until), reason };
    await audited(tx, { at: setAt, by, what: 'taken out of service', detail });
  });
};

/** Ends the break too, also where the alert that began it is over. */
const takeBack = async (deps: Deps, id: string, by: string): Promise<Alert> => {
  const { db, now } = deps;
  const at = now();
  const end = async (tx: Transaction, { chamber, signature }: AlertRow): Promise<boolean> => {
    const ended = await endBreak(tx, { chamber, signature, now: at });
    if (ended) await audited(tx, { at, by, what: 'returned to service', detail: { chamber, signature } });
    return ended;
  };
  const row = await readAlert(db.sql, id);
  if (row?.life.state === 'normal' && (await db.transaction((tx) => end(tx, row)))) return presentAlert(row);
  const request = { kind: 'return-to-service', atMs: at.getTime(), by } as const;
  return move(deps, { id, by, move: request, note: null }, end);
};

const serviceRoutes = (app: App, deps: Deps): void => {
  app.post(
    '/api/v1/alerts/:id/out-of-service',
    {
      schema: {
        ...route,
        summary: 'Take this signature of this chamber out of service until a date, at most 90 days',
        body: OutOfServiceBody,
      },
      config: engineer,
    },
    (request) => {
      const { name: by } = whoAsks(request);
      const { until, reason } = request.body;
      notEmpty('/reason', reason);
      const nowMs = deps.now().getTime();
      const untilMs = endOf(until, nowMs, BREAK);
      return takeOut(deps, request.params.id, { by, nowMs, untilMs, reason });
    },
  );

  app.post(
    '/api/v1/alerts/:id/return-to-service',
    { schema: { ...route, summary: 'Back before its date', body: object({}) }, config: engineer },
    (request) => takeBack(deps, request.params.id, whoAsks(request).name),
  );
};

export const alertMoveRoutes = (app: App, deps: Deps): void => {
  lookRoutes(app, deps);
  shelfRoutes(app, deps);
  serviceRoutes(app, deps);
};
