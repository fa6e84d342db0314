/** Why each alert is worth a person: the records in force, their history, and a new version of one. */
import { Rationalisation, SetRationalisation } from '../../shared/contract/rationalisation.ts';
import { object, Type, words } from '../../shared/contract/schema.ts';
import { SIGNATURES } from '../../shared/contract/words.ts';
import { readInForceFor, readVersions, writeVersion } from '../../shared/db/rationalisations.ts';
import { whoAsks } from '../access.ts';
import { audited } from '../audit.ts';
import type { App, Deps } from '../deps.ts';
import { conflict, ProblemError } from '../errors.ts';
import { judgeRecord } from '../judgeRecord.ts';

const tags = ['rationalisation'];
const SignatureParams = object({ signature: words(SIGNATURES) });
const KindQuery = object({
  kind: Type.Optional(Type.String({ maxLength: 60, description: 'Kind of chamber; without: every kind' })),
});
const Records = object({ records: Type.Array(Rationalisation) });

const readRoutes = (app: App, { db }: Deps): void => {
  app.get(
    '/api/v1/rationalisation',
    {
      schema: {
        summary: 'The record in force for every signature: of that kind of chamber, else of every kind, else built in',
        tags,
        querystring: KindQuery,
        response: { 200: Records },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const inForce = await readInForceFor(db.sql, request.query.kind ?? null);
      return { records: SIGNATURES.map((signature) => inForce[signature]) };
    },
  );

  app.get(
    '/api/v1/rationalisation/:signature/history',
    {
      schema: {
        summary: 'Every version that counted for the kind, newest first; the last is the built-in one',
        tags,
        params: SignatureParams,
        querystring: KindQuery,
        response: { 200: Records },
      },
      config: { policy: 'viewer' },
    },
    async (request) => ({
      records: await readVersions(db.sql, {
        signature: request.params.signature,
        kind: request.query.kind ?? null,
      }),
    }),
  );
};

const writeRoute = (app: App, { db, now }: Deps): void => {
  app.put(
    '/api/v1/rationalisation/:signature',
    {
      schema: {
        summary: 'A new version of a record; every earlier one stays',
        description:
          'Counts for alerts that are raised from then on. The priority follows from severity and time to respond, or the basis says why not.',
        tags,
        params: SignatureParams,
        body: SetRationalisation,
        response: { 200: Rationalisation },
      },
      config: { policy: 'engineer' },
    },
    async (request) => {
      const { signature } = request.params;
      const { kind = null, basedOn, record, note } = request.body;
      const problems = judgeRecord(signature, record);
      if (note.trim() === '') problems.push({ path: '/note', problem: 'must not be empty' });
      if (problems.length > 0)
        throw new ProblemError(422, problems.map((p) => `${p.path}: ${p.problem}`).join('; '), { errors: problems });
      const at = now();
      const { name: by } = whoAsks(request);
      const result = await db.transaction(async (tx) => {
        const answer = await writeVersion(tx, { signature, kind, basedOn, record, note, at, by });
        if ('written' in answer) {
          const detail = { signature, kind, version: answer.written.version, basedOn, note };
          await audited(tx, { at, by, what: 'rationalisation set', detail });
        }
        return answer;
      });
      if ('written' in result) return result.written;
      const { version, setBy, setAt } = result.inForce;
      const first = setBy === null ? 'as built in' : `set by ${setBy} at ${setAt}`;
      throw conflict(`Version ${basedOn} is not in force: version ${version} is, ${first}. Look at it first.`);
    },
  );
};

export const rationalisationRoutes = (app: App, deps: Deps): void => {
  readRoutes(app, deps);
  writeRoute(app, deps);
};
