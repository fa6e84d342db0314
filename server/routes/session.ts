/** Signing in and out, and who is asking. */
import { Session, SignIn, SignInWithToken } from '../../shared/contract/access.ts';
import { Type } from '../../shared/contract/schema.ts';
import { identify, ofToken, refuseOtherSites } from '../access.ts';
import type { App, Deps } from '../deps.ts';
import { ProblemError } from '../errors.ts';
import type { Told } from '../events.ts';
import { passwordFits } from '../passwords.ts';
import { sha256Hex } from '../secrets.ts';
import { endSession, giveCookie, SESSION_COOKIE, startSession } from '../sessions.ts';
import { signInLimit } from '../signInLimit.ts';
import { describeSession } from '../site.ts';

const WRONG = 'The login and the password do not fit.';
const NO_SUCH_TOKEN = 'The token is not known, or it was revoked.';

interface Person {
  login: string;
  name: string;
  role: 'viewer' | 'operator' | 'engineer' | 'admin';
  password_hash: string;
}

type Limit = ReturnType<typeof signInLimit>;
const tags = ['access'];
const config = { policy: 'open' } as const;

export const sessionRoutes = (app: App, deps: Deps, told: Told): void => {
  const { db, now } = deps;
  const limit = signInLimit(now);

  app.get(
    '/api/v1/session',
    {
      schema: { summary: 'Who is asking, and what every page needs to know', tags, response: { 200: Session } },
      config,
    },
    async (request, reply) => {
      const place = told.recent.place();
      const identity = await identify(deps, request);
      const cookie = request.cookies[SESSION_COOKIE];
      // A display is never signed in anew: its browser must not forget the cookie while the token lives.
      if (cookie && identity?.signedIn && identity.token !== null)
        giveCookie(request, reply, cookie, { token: identity.token });
      const who = identity && { kind: identity.kind, login: identity.by, name: identity.name, role: identity.role };
      return describeSession(deps, place, who);
    },
  );

  app.post(
    '/api/v1/session',
    { schema: { summary: 'Sign in', tags, body: SignIn, response: { 200: Session } }, config },
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
      await startSession(db.sql, { holder: { login: person.login }, now: now(), request, reply });
      const { name, role } = person;
      return describeSession(deps, told.recent.place(), { kind: 'person', login: person.login, name, role });
    },
  );

  tokenSignIn(app, deps, told, limit);

  app.delete(
    '/api/v1/session',
    { schema: { summary: 'Sign out', tags, response: { 204: Type.Null() } }, config },
    async (request, reply) => {
      refuseOtherSites(request);
      const cookie = request.cookies[SESSION_COOKIE];
      if (cookie) await endSession(db.sql, sha256Hex(cookie));
      reply.clearCookie(SESSION_COOKIE, { path: '/' });
      return reply.code(204).send(null);
    },
  );
};

/** A display on a wall: the token is typed or pasted once and travels in no address. */
const tokenSignIn = (app: App, deps: Deps, told: Told, limit: Limit): void => {
  app.post(
    '/api/v1/session/token',
    {
      schema: {
        summary: 'Sign a display in with a token; the session has its role and lasts as long as it',
        tags,
        body: SignInWithToken,
        response: { 200: Session },
      },
      config,
    },
    async (request, reply) => {
      refuseOtherSites(request);
      limit.check(request.ip, '');
      const identity = await ofToken(deps, request.body.token.trim());
      if (identity === null || identity.token === null) {
        limit.failed(request.ip, '');
        throw new ProblemError(401, NO_SUCH_TOKEN);
      }
      if (identity.role === 'gateway')
        throw new ProblemError(403, 'A gateway only sends scans; make a token with the role viewer for a display.');
      const { name, role, token } = identity;
      await startSession(deps.db.sql, { holder: { token }, now: deps.now(), request, reply });
      return describeSession(deps, told.recent.place(), { kind: 'token', login: name, name, role });
    },
  );
};
