/** The fleet: one document that says what there is, applied as a whole. */
import { FleetChange, FleetDocument } from '../../shared/contract/fleet.ts';
import { object, Type } from '../../shared/contract/schema.ts';
import { applyFleet, type MovedAnalyser, readFleet } from '../../shared/db/fleet.ts';
import { whoAsks } from '../access.ts';
import { audited } from '../audit.ts';
import type { App, Deps } from '../deps.ts';
import { ProblemError } from '../errors.ts';
import { checkFleet } from '../fleet/checkFleet.ts';
import type { FieldProblem } from '../schemaWords.ts';

/** Twenty thousand chambers with two analysers each. */
const BODY_LIMIT_BYTES = 32 * 1024 * 1024;

const refuse = (errors: readonly FieldProblem[]): ProblemError =>
  new ProblemError(
    422,
    errors
      .map(({ path, problem }) => `${path}: ${problem}`)
      .slice(0, 5)
      .join('; '),
    { errors },
  );

const cannotMove = ({ index, id, from, to }: MovedAnalyser): FieldProblem => ({
  path: `/analysers/${index}/chamber`,
  problem: `${id} has its history in chamber ${from} and cannot move to ${to}; give it a new id there`,
});

export const fleetRoutes = (app: App, { db, now }: Deps): void => {
  app.get(
    '/api/v1/fleet',
    {
      schema: { summary: 'The fleet document in force', tags: ['fleet'], response: { 200: FleetDocument } },
      config: { policy: 'viewer' },
    },
    () => readFleet(db.sql),
  );

  app.put(
    '/api/v1/fleet',
    {
      bodyLimit: BODY_LIMIT_BYTES,
      schema: {
        summary: 'Apply a whole fleet document; what is missing from it is retired, never deleted',
        tags: ['fleet'],
        querystring: object({ dryRun: Type.Optional(Type.Boolean({ description: 'Say what would change' })) }),
        body: FleetDocument,
        response: { 200: FleetChange },
      },
      config: { policy: 'admin' },
    },
    async (request) => {
      const document = request.body;
      const problems = checkFleet(document);
      if (problems.length > 0) throw refuse(problems);
      const at = now();
      const { by } = whoAsks(request);
      const dryRun = request.query.dryRun === true;
      return await db.transaction(async (tx) => {
        const { change, moved } = await applyFleet(tx, document, { dryRun, at, by });
        if (moved.length > 0) throw refuse(moved.map(cannotMove));
        const { applied, ...detail } = change;
        if (applied) await audited(tx, { at, by, what: 'fleet applied', detail });
        return change;
      });
    },
  );
};
