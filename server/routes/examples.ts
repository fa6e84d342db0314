/** Closed cases kept as examples of what was found: the watch of chambers of the same kind names by them too. */
import type { ChangeSpectrum } from '../../shared/contract/alerts.ts';
import { KeepExample, SignatureExample } from '../../shared/contract/rehearsal.ts';
import { object, Type } from '../../shared/contract/schema.ts';
import { SIGNATURES, type Signature } from '../../shared/contract/words.ts';
import type { Transaction } from '../../shared/db/connect.ts';
import {
  type ExampleRow,
  insertExample,
  listExamples,
  readExample,
  withdrawExample,
} from '../../shared/db/examples.ts';
import { insertTask } from '../../shared/db/tasks.ts';
import { whoAsks } from '../access.ts';
import { audited } from '../audit.ts';
import type { App, Deps } from '../deps.ts';
import { conflict, notFound } from '../errors.ts';
import { iso, isoOrNull } from '../instant.ts';
import { nudgeWithin } from '../nudge.ts';
import { newId } from '../secrets.ts';

const Params = object({ id: Type.String({ maxLength: 64 }) });
const tags = ['examples'];

const present = (row: ExampleRow): SignatureExample => ({
  id: row.id,
  alert: row.alert,
  chamber: row.chamber,
  chamberKind: row.chamberKind,
  claimed: row.claimed,
  verified: row.verified,
  gases: [...row.example.gases],
  note: row.note,
  setAt: iso(row.setAt),
  setBy: row.setBy,
  withdrawnAt: isoOrNull(row.withdrawnAt),
  withdrawnBy: row.withdrawnBy,
  check: row.check,
});

interface ClosedAlert {
  chamber: string;
  chamberKind: string | null;
  analyser: string | null;
  signature: Signature;
  gases: string[];
  closedAt: Date | null;
  verified: string | null;
  change: ChangeSpectrum | null;
}

const readClosed = async ({ db }: Deps, id: string): Promise<ClosedAlert | null> => {
  const [row] = await db.sql<ClosedAlert[]>`
    select a.chamber, c.kind as "chamberKind",
      coalesce(a.analyser, (select n.id from analysers n where n.chamber = a.chamber order by n.position limit 1))
        as analyser,
      a.signature, a.gases, a.closed_at as "closedAt", a.verified, a.finding -> 'change' as change
    from alerts a left join chambers c on c.id = a.chamber where a.id = ${id}`;
  return row ?? null;
};

interface Keepable extends ClosedAlert {
  verified: Signature;
  change: ChangeSpectrum;
}

/** @throws 409 with what is missing */
const checkKeepable = (alert: ClosedAlert): Keepable => {
  const { closedAt, verified, change } = alert;
  if (closedAt === null) throw conflict('This alert is not closed: only a verified cause makes an example.');
  if (verified === null) throw conflict('This alert was closed without saying what was found.');
  if (!(SIGNATURES as readonly string[]).includes(verified))
    throw conflict(`What was found (${verified}) is no signature: there is nothing to recognise.`);
  if (!change || change.masses.length === 0)
    throw conflict('This alert does not rest on a change of the spectrum: there is nothing to recognise.');
  return { ...alert, verified: verified as Signature, change };
};

/** All of the kind are named anew, because one more or one less speaks for each of them. */
const askForCheck = async (
  tx: Transaction,
  of: { chamber: string; analyser: string; example: string; at: Date; by: string },
) => {
  const { chamber, analyser, example, at: askedAt, by: askedBy } = of;
  const request = { kind: 'example', example } as const;
  await insertTask(tx, { chamber, analyser, id: newId('task'), request, askedAt, askedBy });
};

const rowOf = (alert: Keepable, asked: { id: string; alert: string; note: string; at: Date; by: string }) => {
  const { masses, usualPa, changePa, sigmaPa, gaugeChangePa } = alert.change;
  const example = {
    id: asked.id,
    signature: alert.verified,
    gases: alert.gases,
    masses,
    changePa,
    sigmaPa,
    gaugeChangePa,
    usualPa,
  };
  return {
    id: asked.id,
    chamber: alert.chamber,
    alert: asked.alert,
    chamberKind: alert.chamberKind,
    claimed: alert.signature,
    verified: alert.verified,
    example,
    note: asked.note,
    setAt: asked.at,
    setBy: asked.by,
  };
};

const keepRoute = (app: App, deps: Deps): void => {
  app.post(
    '/api/v1/alerts/:id/example',
    {
      schema: {
        summary: 'Keep a closed alert as an example of its verified cause',
        tags,
        params: Params,
        body: KeepExample,
        response: { 201: SignatureExample },
      },
      config: { policy: 'engineer' },
    },
    async (request, reply) => {
      const { id: alertId } = request.params;
      const found = await readClosed(deps, alertId);
      if (found === null) throw notFound(`There is no alert ${alertId}.`);
      const alert = checkKeepable(found);
      const at = deps.now();
      const { name: by } = whoAsks(request);
      const { note = '' } = request.body;
      const kept = await deps.db.transaction(async (tx) => {
        const row = await insertExample(tx, rowOf(alert, { id: newId('example'), alert: alertId, note, at, by }));
        if (row === null) return null;
        const { id, chamber, claimed, verified } = row;
        if (alert.analyser !== null) await askForCheck(tx, { chamber, analyser: alert.analyser, example: id, at, by });
        const detail = { id, alert: alertId, chamber, claimed, verified, note };
        await audited(tx, { at, by, what: 'example kept', detail });
        return row;
      });
      if (kept === null) throw conflict('This alert is kept as an example already.');
      await nudgeWithin(deps, [kept.chamber]);
      return reply.code(201).send(present(kept));
    },
  );
};

const withdrawRoute = (app: App, deps: Deps): void => {
  app.post(
    '/api/v1/examples/:id/withdraw',
    {
      schema: {
        summary: 'The watch no longer names by this example; what was judged stays judged',
        tags,
        params: Params,
        body: object({}),
        response: { 200: SignatureExample },
      },
      config: { policy: 'engineer' },
    },
    async (request) => {
      const { id } = request.params;
      const at = deps.now();
      const { name: by } = whoAsks(request);
      const row = await deps.db.transaction(async (tx) => {
        const withdrawn = await withdrawExample(tx, { id, at, by });
        const stands = await readExample(tx, id);
        if (!withdrawn) {
          if (stands === null) throw notFound(`There is no example ${id}.`);
          throw conflict('This example is withdrawn already.');
        }
        const { chamber, alert, verified } = stands as ExampleRow;
        const [home] = await tx<{ analyser: string }[]>`
          select id as analyser from analysers where chamber = ${chamber} order by position limit 1`;
        if (home) await askForCheck(tx, { chamber, analyser: home.analyser, example: id, at, by });
        await audited(tx, { at, by, what: 'example withdrawn', detail: { id, alert, chamber, verified } });
        return stands as ExampleRow;
      });
      await nudgeWithin(deps, [row.chamber]);
      return present(row);
    },
  );
};

export const exampleRoutes = (app: App, deps: Deps): void => {
  keepRoute(app, deps);
  withdrawRoute(app, deps);
  app.get(
    '/api/v1/examples',
    {
      schema: {
        summary: 'Cases kept as examples, newest first, withdrawn ones too',
        tags,
        response: { 200: object({ examples: Type.Array(SignatureExample) }) },
      },
      config: { policy: 'viewer' },
    },
    async () => ({ examples: (await listExamples(deps.db.sql)).map(present) }),
  );
};
