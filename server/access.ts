/**
 * Who is asking, and whether they may: one hook for every route. Programs send a bearer token, people and displays a
 * session cookie. Nothing is remembered between requests, so that a revoked token is refused by the very next one.
 */
import { timingSafeEqual } from 'node:crypto';
import type { FastifyRequest, RouteOptions } from 'fastify';
import type { Role } from '../shared/contract/words.ts';
import type { App, Deps } from './deps.ts';
import { ProblemError } from './errors.ts';
import { mayUse, NEEDS, type Policy } from './policy.ts';
import { sha256Hex } from './secrets.ts';
import { findSession, SESSION_COOKIE } from './sessions.ts';

export interface Identity {
  kind: 'token' | 'person';
  /** By the cookie of a session, which a browser attaches to whatever it sends. */
  signedIn: boolean;
  /** As the audit and the alerts name them: the login of a person, the name of a token. */
  by: string;
  name: string;
  role: Role;
  /** Analysers that a gateway may send for; null: all. */
  analysers: ReadonlySet<string> | null;
  /** Id of the token, also when a display has signed in with it; null: a person, or the token of the environment. */
  token: string | null;
}

declare module 'fastify' {
  interface FastifyContextConfig {
    policy?: Policy;
  }
  interface FastifyRequest {
    identity: Identity | null;
  }
}

/** A token is marked as used at most this often. */
const USED_EVERY_SECONDS = 60;
const SAFE_METHODS = new Set(['GET', 'HEAD', 'OPTIONS']);

const sameHash = (a: string, b: string): boolean => timingSafeEqual(Buffer.from(a, 'hex'), Buffer.from(b, 'hex'));

export const ofToken = async (deps: Deps, token: string): Promise<Identity | null> => {
  const hash = sha256Hex(token);
  const own = deps.settings.adminToken;
  if (own !== null && sameHash(hash, sha256Hex(own)))
    return {
      kind: 'token',
      signedIn: false,
      by: 'admin token',
      name: 'admin token',
      role: 'admin',
      analysers: null,
      token: null,
    };
  // One row whether it is known or not: a connection that dies can leave an answer without any, and a gateway that
  // hears 401 for a good token stops sending.
  const [row] = await deps.db.sql<
    { id: string | null; name: string; role: Role; analysers: string[] | null; last_used_at: Date | null }[]
  >`select t.id, t.name, t.role, t.analysers, t.last_used_at
    from (select 1) as asked left join tokens t on t.hash = ${hash} and t.revoked_at is null`;
  if (!row)
    throw new ProblemError(503, 'The database did not say who this is. Send it again.', { retryAfterSeconds: 1 });
  if (row.id === null) return null;
  const now = deps.now();
  if (row.last_used_at === null || now.getTime() - row.last_used_at.getTime() > USED_EVERY_SECONDS * 1000)
    await deps.db.sql`update tokens set last_used_at = ${now} where id = ${row.id}`;
  return {
    kind: 'token',
    signedIn: false,
    by: row.name,
    name: row.name,
    role: row.role,
    analysers: row.analysers === null ? null : new Set(row.analysers),
    token: row.id,
  };
};

/** @throws 401 for a token that is not known; null when nobody says who they are */
export const identify = async (deps: Deps, request: FastifyRequest): Promise<Identity | null> => {
  const { authorization } = request.headers;
  if (authorization !== undefined) {
    const token = /^Bearer +([\x21-\x7e]+)$/i.exec(authorization)?.[1];
    const identity = token === undefined ? null : await ofToken(deps, token);
    if (identity === null) throw new ProblemError(401, 'The bearer token is not known, or it was revoked.');
    return identity;
  }
  const cookie = request.cookies[SESSION_COOKIE];
  const session = cookie ? await findSession(deps.db.sql, cookie, deps.now()) : null;
  if (session === null) return null;
  const { login, token, name, role } = session;
  const by = login ?? name;
  return { kind: token === null ? 'person' : 'token', signedIn: true, by, name, role, analysers: null, token };
};

/**
 * A browser attaches the cookie to whatever another site makes it send; it also says truthfully where the request
 * came from (Fetch Metadata), or at least its Origin.
 */
const comesFromOurPage = (request: FastifyRequest): boolean => {
  const site = request.headers['sec-fetch-site'];
  if (site !== undefined) return site === 'same-origin';
  const { origin, host } = request.headers;
  return origin !== undefined && URL.canParse(origin) && new URL(origin).host === host;
};

/** For the sign-in itself, which has no session yet: refused only when a browser says that it comes from elsewhere. */
export const refuseOtherSites = (request: FastifyRequest): void => {
  const { origin } = request.headers;
  const site = request.headers['sec-fetch-site'];
  if ((site !== undefined || origin !== undefined) && !comesFromOurPage(request))
    throw new ProblemError(403, 'This request comes from another site.');
};

export const checkAccess = (app: App, deps: Deps): void => {
  app.decorateRequest('identity', null);

  // Asked once all routes are there: the files of the page get their policy from a hook that runs after this one.
  const routes: RouteOptions[] = [];
  app.addHook('onRoute', (route) => {
    routes.push(route);
  });
  app.addHook('onReady', async () => {
    for (const { method, url, config } of routes)
      if (config?.policy === undefined)
        throw new Error(`${String(method)} ${url} does not say who may use it (config.policy)`);
  });

  app.addHook('onRequest', async (request) => {
    const { policy } = request.routeOptions.config;
    if (policy === undefined) return; // No such route: the answer is 404 for everyone.
    if (policy === 'open') return;
    const identity = await identify(deps, request);
    if (identity === null) throw new ProblemError(401, 'Sign in, or send a bearer token.');
    if (identity.signedIn && !SAFE_METHODS.has(request.method) && !comesFromOurPage(request))
      throw new ProblemError(403, 'This request does not come from the page it belongs to.');
    if (!mayUse(identity.role, policy))
      throw new ProblemError(403, `${NEEDS[policy]} ${identity.by} has the role ${identity.role}.`);
    request.identity = identity;
  });
};

/** Inside a route whose policy is not `open`. */
export const whoAsks = (request: FastifyRequest): Identity => {
  if (request.identity === null) throw new ProblemError(401, 'Sign in, or send a bearer token.');
  return request.identity;
};
