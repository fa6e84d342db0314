/** Signing in and out, and who is asking. */
import { Session, SignIn } from '../../shared/contract/access.ts';
import { Type } from '../../shared/contract/schema.ts';
import { identify, refuseOtherSites } from '../access.ts';
import type { App, Deps } from '../deps.ts';
import { ProblemError } from '../errors.ts';
import { passwordFits } from '../passwords.ts';
import { sha256Hex } from '../secrets.ts';
import { endSession, SESSION_COOKIE, startSession } from '../sessions.ts';
import { signInLimit } from '../signInLimit.ts';
import { describeSession } from '../site.ts';

const WRONG = 'The login and the password do not fit.';

interface Person {
  login: string;
  name: string;
  role: 'viewer' | 'operator' | 'engineer' | 'admin';
  password_hash: string;
}

export const sessionRoutes = (app: App, deps: Deps): void => {
  const { db, now } = deps;
  const limit = signInLimit(now);
  const tags = ['access'];

  app.get(
    '/api/v1/session',
    {
      schema: { summary: 'Who is asking, and what every page needs to know', tags, response: { 200: Session } },
      config: { policy: 'open' },
    },
    async (request) => {
      const identity = await identify(deps, request);
      return describeSession(deps, identity && { login: identity.by, name: identity.name, role: identity.role });
    },
  );

  app.post(
    '/api/v1/session',
    {
      schema: { summary: 'Sign in', tags, body: SignIn, response: { 200: Session } },
      config: { policy: 'open' },
    },
    async (request, reply) => {
      refuseOtherSites(request);
      const { login, password } = request.body;
      limit.check(request.ip, login);
      const [person] = await db.sql<Person[]>`
        select login, name, role, password_hash from people where login = ${login} and retired_at is null`;
      if (!(await passwordFits(person?.password_hash ?? null, password)) || !person) {
        limit.failed(request.ip, login);
        throw new ProblemError(401, WRONG);
      }
      limit.succeeded(request.ip, login);
      await startSession(db.sql, { login: person.login, now: now(), request, reply });
      return describeSession(deps, { login: person.login, name: person.name, role: person.role });
    },
  );

  app.delete(
    '/api/v1/session',
    {
      schema: { summary: 'Sign out', tags, response: { 204: Type.Null() } },
      config: { policy: 'open' },
    },
    async (request, reply) => {
      refuseOtherSites(request);
      const cookie = request.cookies[SESSION_COOKIE];
      if (cookie) await endSession(db.sql, sha256Hex(cookie));
      reply.clearCookie(SESSION_COOKIE, { path: '/' });
      return reply.code(204).send(null);
    },
  );
};
