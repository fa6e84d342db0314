/** The shift round: what changed since the last signed one, worst first, and signing it. */

import { Round, RoundLine, SignedRound, SignRound } from '../../shared/contract/round.ts';
import { object, type Static, Type, words } from '../../shared/contract/schema.ts';
import { PRESSURE_UNITS, type PressureUnit } from '../../shared/contract/words.ts';
import type { ChamberFacts } from '../../shared/db/chamberFacts.ts';
import { readChamberFacts } from '../../shared/db/chamberFacts.ts';
import { type LastRound, readLastRounds, readRound, signRound } from '../../shared/db/rounds.ts';
import { whoAsks } from '../access.ts';
import { readCausesOf } from '../alertGroups.ts';
import { asksForSomebody, byAttention, chamberLine } from '../chamberLine.ts';
import type { App, Deps } from '../deps.ts';
import { notFound } from '../errors.ts';
import { iso, isoOrNull } from '../instant.ts';
import { changeSince, headline, shiftAt } from '../roundLines.ts';
import { newId } from '../secrets.ts';

interface AreaRow {
  id: string;
  name: string;
  timeZone: string;
  shifts: string[];
}

type Line = Static<typeof RoundLine>;

const readAreas = (deps: Deps, area: string | undefined) => deps.db.sql<AreaRow[]>`
  select id, name, time_zone as "timeZone", shifts from areas
  where retired_at is null and (${area ?? null}::text is null or id = ${area ?? null})
  order by position, id`;

const linesOf = (
  facts: readonly ChamberFacts[],
  options: { last: LastRound | undefined; unit: PressureUnit; now: Date },
): Line[] =>
  facts
    .map((one) => {
      const seen = options.last?.seen.get(one.id) ?? null;
      const line = chamberLine(one, { unit: options.unit, now: options.now, seen });
      return { ...line, ...changeSince(line, one, seen) };
    })
    .sort(byAttention);

/** Groups of the alerts that ask for a person now. */
const groupsOfOpen = async ({ db }: Deps, facts: readonly ChamberFacts[]): Promise<(readonly string[])[]> => {
  const asking = facts.flatMap(({ openAlerts }) => openAlerts.filter(asksForSomebody));
  return (await readCausesOf(db.sql, asking)).map(({ alerts }) => alerts);
};

const roundOf = async (
  deps: Deps,
  asked: { area: string | undefined; unit: PressureUnit },
): Promise<Static<typeof Round>> => {
  const { area, unit } = asked;
  const now = deps.now();
  const [areas, facts, rounds] = await Promise.all([
    readAreas(deps, area),
    readChamberFacts(deps.db.sql, area === undefined ? { all: true } : { area }),
    readLastRounds(deps.db.sql),
  ]);
  if (area !== undefined && areas.length === 0) throw notFound(`There is no area ${area}.`);
  const told = areas.map((one) => {
    const last = rounds.get(one.id);
    const own = facts.filter((chamber) => chamber.area === one.id);
    return {
      id: one.id,
      name: one.name,
      timeZone: one.timeZone,
      shift: shiftAt(one.shifts, one.timeZone, now),
      lastSigned: last ? { id: last.id, at: iso(last.at), by: last.by, note: last.note } : null,
      chambers: linesOf(own, { last, unit, now }),
    };
  });
  const shelved = facts.flatMap(({ openAlerts }) => openAlerts).filter(({ state }) => state === 'shelved');
  const returns = shelved.flatMap(({ shelvedUntil }) => (shelvedUntil ? [shelvedUntil.getTime()] : []));
  return {
    at: iso(now),
    headline: headline(
      told.flatMap(({ chambers }) => chambers),
      await groupsOfOpen(deps, facts),
    ),
    shelved: {
      count: shelved.length,
      nextReturnsAt: isoOrNull(returns.length > 0 ? new Date(Math.min(...returns)) : null),
    },
    areas: told,
  };
};

/** The lines as the signer saw them, in pascal, with the alerts that asked for somebody. */
const sign = async (deps: Deps, round: { area: string; note: string; by: string }) => {
  const now = deps.now();
  const [facts, rounds] = await Promise.all([
    readChamberFacts(deps.db.sql, { area: round.area }),
    readLastRounds(deps.db.sql),
  ]);
  const alertsOf = new Map(
    facts.map(({ id, openAlerts }) => [id, openAlerts.filter(asksForSomebody).map((a) => a.id)]),
  );
  const lines = linesOf(facts, { last: rounds.get(round.area), unit: 'Pa', now });
  const seen = { chambers: lines.map((line) => ({ line, alerts: alertsOf.get(line.id) ?? [] })) };
  const signed = { ...round, id: newId('round'), at: now };
  await signRound(deps.db.sql, { ...signed, seen });
  return { id: signed.id, area: signed.area, at: iso(now), by: signed.by, note: signed.note };
};

export const roundRoutes = (app: App, deps: Deps): void => {
  app.get(
    '/api/v1/round',
    {
      schema: {
        summary: 'What has changed since the last signed round of each area, worst first',
        tags: ['round'],
        querystring: object({
          area: Type.Optional(Type.String({ maxLength: 64 })),
          unit: Type.Optional(words(PRESSURE_UNITS)),
        }),
        response: { 200: Round },
      },
      config: { policy: 'viewer' },
    },
    (request) => roundOf(deps, { area: request.query.area, unit: request.query.unit ?? 'Pa' }),
  );

  app.post(
    '/api/v1/round/sign',
    {
      schema: {
        summary: 'Sign the round of an area; what was seen is kept',
        tags: ['round'],
        body: SignRound,
        response: { 200: SignedRound },
      },
      config: { policy: 'operator' },
    },
    async (request) => {
      const { area, note = '' } = request.body;
      const areas = await readAreas(deps, area);
      if (areas.length === 0) throw notFound(`There is no area ${area}.`);
      return await sign(deps, { area, note, by: whoAsks(request).name });
    },
  );

  app.get(
    '/api/v1/rounds/:id',
    {
      schema: {
        summary: 'A signed round with what was seen',
        tags: ['round'],
        params: object({ id: Type.String({ maxLength: 64 }) }),
        response: {
          200: object({
            ...SignedRound.properties,
            chambers: Type.Array(RoundLine),
          }),
        },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const round = await readRound(deps.db.sql, request.params.id);
      if (round === null) throw notFound(`There is no signed round ${request.params.id}.`);
      const { id, area, at, by, note, seen } = round;
      return { id, area, at: iso(at), by, note, chambers: seen.chambers.map(({ line }) => line) };
    },
  );
};
