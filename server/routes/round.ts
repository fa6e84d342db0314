/** The shift round: what changed since the last signed one, worst first, and signing it. */

import { CATALOGUE_VERSION } from '../../shared/catalogue/gases.ts';
import { Round, SignedRound, SignRound } from '../../shared/contract/round.ts';
import { object, Type, words } from '../../shared/contract/schema.ts';
import { PRESSURE_UNITS, type PressureUnit } from '../../shared/contract/words.ts';
import type { ChamberFacts } from '../../shared/db/chamberFacts.ts';
import { type RoundHead, signRound } from '../../shared/db/rounds.ts';
import { type Identity, whoAsks } from '../access.ts';
import { readCausesOf } from '../alertGroups.ts';
import { readAreaRounds, readHandovers } from '../areaRounds.ts';
import { asksForSomebody } from '../chamberLine.ts';
import type { App, Deps } from '../deps.ts';
import { notFound } from '../errors.ts';
import { iso, isoOrNull } from '../instant.ts';
import { headline, shiftAt } from '../roundLines.ts';
import { byWorst } from '../roundOrder.ts';
import { newId } from '../secrets.ts';

/** Groups of the alerts that ask for a person now. */
const groupsOfOpen = async ({ db }: Deps, facts: readonly ChamberFacts[]): Promise<(readonly string[])[]> => {
  const asking = facts.flatMap(({ openAlerts }) => openAlerts.filter(asksForSomebody));
  return (await readCausesOf(db.sql, asking)).map(({ alerts }) => alerts);
};

export const presentSigned = ({ id, at, by, note, countersigned }: RoundHead) => ({
  id,
  at: iso(at),
  by,
  note,
  countersigned: countersigned && { ...countersigned, at: iso(countersigned.at) },
});

const roundOf = async (deps: Deps, asked: { area: string | undefined; unit: PressureUnit }): Promise<Round> => {
  const { area, unit } = asked;
  const now = deps.now();
  const rounds = await deps.db.atOneInstant((tx) => readAreaRounds(tx, { area, unit, now, database: deps.db.sql }));
  if (area !== undefined && rounds.length === 0) throw notFound(`There is no area ${area}.`);
  const facts = rounds.flatMap((one) => one.facts);
  const shelved = facts.flatMap(({ openAlerts }) => openAlerts).filter(({ state }) => state === 'shelved');
  const returns = shelved.flatMap(({ shelvedUntil }) => (shelvedUntil ? [shelvedUntil.getTime()] : []));
  return {
    at: iso(now),
    headline: headline(
      rounds.flatMap(({ lines }) => lines),
      await groupsOfOpen(deps, facts),
    ),
    shelved: {
      count: shelved.length,
      nextReturnsAt: isoOrNull(returns.length > 0 ? new Date(Math.min(...returns)) : null),
    },
    areas: rounds
      .map(({ area: { id, name, timeZone, shifts }, last, lines }) => ({
        id,
        name,
        timeZone,
        shift: shiftAt(shifts, timeZone, now),
        lastSigned: last ? presentSigned(last) : null,
        chambers: lines,
      }))
      .sort(byWorst),
    catalogue: CATALOGUE_VERSION,
  };
};

/** The lines as the signer saw them, in pascal, with the alerts that asked for somebody and the handover as it stood. */
const sign = async (deps: Deps, asked: { area: string; note: string; who: Identity }): Promise<SignedRound> => {
  const { area, note, who } = asked;
  const now = deps.now();
  const id = newId('round');
  const by = who.name;
  await deps.db.atOneInstant(async (tx) => {
    const rounds = await readAreaRounds(tx, { area, unit: 'Pa', now, database: deps.db.sql });
    const [round] = rounds;
    if (!round) throw notFound(`There is no area ${area}.`);
    const [handover] = await readHandovers(tx, rounds, { area, now });
    if (!handover) throw notFound(`There is no area ${area}.`);
    const alertsOf = new Map(
      round.facts.map((one) => [one.id, one.openAlerts.filter(asksForSomebody).map((alert) => alert.id)]),
    );
    const seen = { chambers: round.lines.map((line) => ({ line, alerts: alertsOf.get(line.id) ?? [] })) };
    await signRound(tx, { id, area, at: now, by, as: `${who.kind} ${who.by}`, note, seen, handover });
  });
  return { id, area, at: iso(now), by, note };
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
        summary: 'Sign the round of an area; what was seen and the handover are kept as they stand',
        tags: ['round'],
        body: SignRound,
        response: { 200: SignedRound },
      },
      config: { policy: 'operator' },
    },
    (request) => {
      const { area, note = '' } = request.body;
      return sign(deps, { area, note, who: whoAsks(request) });
    },
  );
};
