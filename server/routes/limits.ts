/** Limits that people set for the gases of a chamber. */

import { resolveGas } from '../../shared/catalogue/select.ts';
import { Limit, LimitsBody } from '../../shared/contract/round.ts';
import { object, type Static, Type } from '../../shared/contract/schema.ts';
import { whoAsks } from '../access.ts';
import { audited } from '../audit.ts';
import type { App, Deps } from '../deps.ts';
import { ProblemError } from '../errors.ts';
import type { FieldProblem } from '../schemaWords.ts';
import { ChamberParams, checkChamber } from './chambers.ts';

type Line = Static<typeof Limit>;
const Limits = object({ limits: Type.Array(Limit) });

const read = async ({ db }: Deps, chamber: string): Promise<Line[]> => {
  const rows = await db.sql<{ gas: string; limitPa: number; priority: Line['priority']; note: string }[]>`
    select gas, limit_pa as "limitPa", priority, note from limits where chamber = ${chamber} order by gas`;
  return rows.map(({ note, ...row }) => (note === '' ? row : { ...row, note }));
};

/** @throws 422 for a gas that the catalogue does not know, or that stands twice */
const checked = (limits: readonly Line[]): Line[] => {
  const problems: FieldProblem[] = [];
  const seen = new Set<string>();
  const known = limits.map((limit, i) => {
    const gas = resolveGas(limit.gas);
    const path = `/limits/${i}/gas`;
    if (gas === null) problems.push({ path, problem: `${limit.gas} is not in the catalogue (see GET /api/v1/gases)` });
    else if (seen.has(gas)) problems.push({ path, problem: `${limit.gas} has a limit already` });
    else seen.add(gas);
    return { ...limit, gas: gas ?? limit.gas };
  });
  if (problems.length > 0)
    throw new ProblemError(422, problems.map((p) => `${p.path}: ${p.problem}`).join('; '), { errors: problems });
  return known;
};

export const limitRoutes = (app: App, deps: Deps): void => {
  const { db, now } = deps;
  app.get(
    '/api/v1/chambers/:id/limits',
    {
      schema: { summary: 'Limits in force', tags: ['limits'], params: ChamberParams, response: { 200: Limits } },
      config: { policy: 'viewer' },
    },
    async (request) => {
      await checkChamber(deps, request.params.id);
      return { limits: await read(deps, request.params.id) };
    },
  );

  app.put(
    '/api/v1/chambers/:id/limits',
    {
      schema: {
        summary: 'Replace the limits of a chamber; pressures in Pa',
        tags: ['limits'],
        params: ChamberParams,
        body: LimitsBody,
        response: { 200: Limits },
      },
      config: { policy: 'engineer' },
    },
    async (request) => {
      const chamber = request.params.id;
      await checkChamber(deps, chamber);
      const limits = checked(request.body.limits);
      const at = now();
      const { by } = whoAsks(request);
      await db.transaction(async (tx) => {
        // The row of the chamber is the lock: of two people who replace its limits at once, one waits.
        await tx`select 1 from chambers where id = ${chamber} for update`;
        await tx`delete from limits where chamber = ${chamber}`;
        if (limits.length > 0)
          await tx`insert into limits ${tx(
            limits.map((limit) => ({
              chamber,
              gas: limit.gas,
              limit_pa: limit.limitPa,
              priority: limit.priority,
              note: limit.note ?? '',
              set_at: at,
              set_by: by,
            })),
          )}`;
        await audited(tx, { at, by, what: 'limits set', detail: { chamber, limits } });
      });
      return { limits: await read(deps, chamber) };
    },
  );
};
