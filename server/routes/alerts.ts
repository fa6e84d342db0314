/** Alerts: which there are, why, what to do about them, and which of them share a cause. */
import { Alert, AlertDetail, AlertGroup, AlertMove } from '../../shared/contract/alerts.ts';
import { Instant, object, type Static, Type, words } from '../../shared/contract/schema.ts';
import { ALERT_STATES, SIGNATURES } from '../../shared/contract/words.ts';
import { type AlertRow, listAlerts, readAlert, readMoves } from '../../shared/db/alertLists.ts';
import { readInForceFor, readVersion } from '../../shared/db/rationalisations.ts';
import { listBreaks } from '../../shared/db/serviceBreaks.ts';
import { readGroupOf, readGroups } from '../alertGroups.ts';
import type { App, Deps } from '../deps.ts';
import { malformed, notFound } from '../errors.ts';
import { iso, queryInstant } from '../instant.ts';
import { presentAlert, presentMove } from '../presentAlert.ts';
import { AlertParams } from './alertMoves.ts';

const MOST_ALERTS = 10_000;

/** A comma-separated list of words of the contract. @throws 400 naming the word that is none */
const wordsOf = (name: string, asked: string | undefined, known: readonly string[]): string[] | undefined => {
  if (asked === undefined) return undefined;
  const words = asked.split(',').map((word) => word.trim());
  const strange = words.find((word) => !known.includes(word));
  if (strange !== undefined) throw malformed(name, `"${strange}" is not one of ${known.join(', ')}`);
  return words;
};

const AlertInFull = object({ ...Alert.properties, ...AlertDetail, moves: Type.Array(AlertMove) });

/** The record that the alert was raised under, and the version that has taken its place since. */
const rationalised = async ({ db: { sql } }: Deps, { chamber, signature, rationalisationVersion }: AlertRow) => {
  const [about] = await sql<{ kind: string | null }[]>`select kind from chambers where id = ${chamber}`;
  const [raisedUnder, inForce] = await Promise.all([
    readVersion(sql, signature, rationalisationVersion),
    readInForceFor(sql, about?.kind ?? null),
  ]);
  const { version } = inForce[signature];
  return { rationalisation: raisedUnder, newerRationalisation: version === rationalisationVersion ? null : version };
};

const inFull = async (deps: Deps, row: AlertRow): Promise<Static<typeof AlertInFull>> => {
  const [moves, told, groups] = await Promise.all([
    readMoves(deps.db.sql, row),
    rationalised(deps, row),
    readGroupOf(deps.db.sql, [row]),
  ]);
  const { change } = row.finding;
  return {
    ...presentAlert(row, groups.get(row.id) ?? null),
    ...told,
    change: change
      ? {
          masses: [...change.masses],
          usualPa: [...change.usualPa],
          changePa: [...change.changePa],
          sigmaPa: [...change.sigmaPa],
          gaugeChangePa: change.gaugeChangePa,
        }
      : null,
    moves: moves.map(presentMove),
  };
};

const listRoutes = (app: App, deps: Deps): void => {
  const { db } = deps;
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
      const groups = await readGroupOf(db.sql, rows);
      return { alerts: rows.map((row) => presentAlert(row, groups.get(row.id) ?? null)) };
    },
  );

  app.get(
    '/api/v1/alerts/:id',
    {
      schema: {
        summary: 'One alert in full: what to do about it, the change that it stands on, every move of its life',
        tags: ['alerts'],
        params: AlertParams,
        response: { 200: AlertInFull },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const row = await readAlert(db.sql, request.params.id);
      if (row === null) throw notFound(`There is no alert ${request.params.id}.`);
      return await inFull(deps, row);
    },
  );
};

const WEEK_MS = 7 * 86_400_000;

const groupRoutes = (app: App, { db, now }: Deps): void => {
  app.get(
    '/api/v1/alerts/groups',
    {
      schema: {
        summary: 'Alerts that began together and share a cause, and floods, newest first. Default: the last seven days',
        tags: ['alerts'],
        querystring: object({ from: Type.Optional(Instant), to: Type.Optional(Instant) }),
        response: { 200: object({ groups: Type.Array(AlertGroup) }) },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const to = queryInstant('to', request.query.to) ?? now();
      const from = queryInstant('from', request.query.from) ?? new Date(to.getTime() - WEEK_MS);
      return { groups: await readGroups(db.sql, { from, to }) };
    },
  );
};

const ServiceBreak = object({
  chamber: Type.String(),
  signature: words(SIGNATURES),
  until: Instant,
  reason: Type.String(),
  setAt: Instant,
  setBy: Type.String(),
});

const breakRoutes = (app: App, { db, now }: Deps): void => {
  app.get(
    '/api/v1/service-breaks',
    {
      schema: {
        summary: 'Signatures of chambers that are out of service now, the next to end first',
        tags: ['alerts'],
        response: { 200: object({ breaks: Type.Array(ServiceBreak) }) },
      },
      config: { policy: 'viewer' },
    },
    async () => {
      const breaks = await listBreaks(db.sql, now());
      return { breaks: breaks.map(({ until, setAt, ...rest }) => ({ ...rest, until: iso(until), setAt: iso(setAt) })) };
    },
  );
};

export const alertRoutes = (app: App, deps: Deps): void => {
  groupRoutes(app, deps);
  listRoutes(app, deps);
  breakRoutes(app, deps);
};
