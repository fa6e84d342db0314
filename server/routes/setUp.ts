/** The first account, made with the one-time link that the first start prints. */
import { Session, SetUp } from '../../shared/contract/access.ts';
import type { Static } from '../../shared/contract/schema.ts';
import { PEOPLE_LOCK } from '../../shared/db/locks.ts';
import { refuseOtherSites } from '../access.ts';
import type { App, Deps } from '../deps.ts';
import { conflict, ProblemError } from '../errors.ts';
import type { Told } from '../events.ts';
import { hashPassword } from '../passwords.ts';
import { sha256Hex } from '../secrets.ts';
import { startSession } from '../sessions.ts';
import { signInLimit } from '../signInLimit.ts';
import { describeSession } from '../site.ts';

/** Makes the first account and uses the key up, both or neither; null: the key is not good. */
const makeFirst = (deps: Deps, asked: Static<typeof SetUp>, passwordHash: string): Promise<boolean | null> => {
  const at = deps.now();
  return deps.db.transaction(async (tx) => {
    await tx`select pg_advisory_xact_lock(${PEOPLE_LOCK})`;
    const used = await tx`
      update set_up_keys set used_at = ${at}
      where hash = ${sha256Hex(asked.key)} and used_at is null and expires_at > ${at} returning 1`;
    if (used.length === 0) return null;
    // The link makes the first admin, nobody else: whoever finds it later finds an empty hook.
    const made = await tx`
      insert into people (login, name, role, password_hash, created_at)
      select ${asked.login}, ${asked.name}, 'admin', ${passwordHash}, ${at}
      where not exists (select 1 from people) returning 1`;
    await tx`
      insert into audit (at, by, what, detail)
      values (${at}, ${asked.login}, 'set up', ${tx.json({ login: asked.login, made: made.length > 0 })})`;
    return made.length > 0;
  });
};

export const setUpRoutes = (app: App, deps: Deps, { recent }: Told): void => {
  const limit = signInLimit(deps.now);

  app.post(
    '/api/v1/set-up',
    {
      schema: {
        summary: 'Make the first account with the one-time link, and sign it in',
        tags: ['access'],
        body: SetUp,
        response: { 200: Session },
      },
      config: { policy: 'open' },
    },
    async (request, reply) => {
      refuseOtherSites(request);
      limit.check(request.ip, '');
      const made = await makeFirst(deps, request.body, await hashPassword(request.body.password));
      if (made === null) {
        limit.failed(request.ip, '');
        throw new ProblemError(403, 'This link has been used, has expired, or was never given out.');
      }
      if (!made) throw conflict('There is an account already; sign in with it.');
      const { login, name } = request.body;
      await startSession(deps.db.sql, { holder: { login }, now: deps.now(), request, reply });
      return describeSession(deps, recent.place(), { kind: 'person', login, name, role: 'admin' });
    },
  );
};
