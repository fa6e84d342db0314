/**
 * The only place where an error becomes a status and a sentence: RFC 9457 problem details, with the id of the request
 * as `instance`. What went wrong inside goes to the log under that id and never to the caller.
 */
import { STATUS_CODES } from 'node:http';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Problem } from '../shared/contract/problem.ts';
import type { Log } from '../shared/log.ts';
import type { App } from './deps.ts';
import { type FieldProblem, fieldProblems, type SchemaError } from './schemaWords.ts';

/** An answer that is not what was asked for; thrown anywhere below a route. */
export class ProblemError extends Error {
  readonly status: number;
  readonly errors: readonly FieldProblem[] | undefined;
  readonly retryAfterSeconds: number | undefined;
  constructor(
    status: number,
    detail: string,
    more: { errors?: readonly FieldProblem[]; retryAfterSeconds?: number } = {},
  ) {
    super(detail);
    this.name = 'ProblemError';
    this.status = status;
    this.errors = more.errors;
    this.retryAfterSeconds = more.retryAfterSeconds;
  }
}

export const notFound = (detail: string) => new ProblemError(404, detail);
export const conflict = (detail: string) => new ProblemError(409, detail);
/** Understood but impossible; one field is at fault. */
export const impossible = (path: string, problem: string) =>
  new ProblemError(422, `${path}: ${problem}`, { errors: [{ path, problem }] });
/** Malformed; one field is at fault. */
export const malformed = (path: string, problem: string) =>
  new ProblemError(400, `${path}: ${problem}`, { errors: [{ path, problem }] });

/** How soon to come back when the database is away: it restarts within seconds. */
const DATABASE_RETRY_S = 3;
/** Connection lost or refused, deadline passed (connect.ts); 57P: server shutting down; 53: out of resources; locks. */
const AWAY =
  /^(CONNECT|ECONN|ENOENT$|EPIPE$|ETIMEDOUT$|ENOTFOUND$|EAI_AGAIN$|DEADLINE$|SERVER_SILENT$|57P|57014$|53|08|55P03$|40001$|40P01$)/;

const isDatabaseAway = (error: { code?: unknown }): boolean =>
  typeof error.code === 'string' && (AWAY.test(error.code) || error.code.startsWith('CONNECTION_'));

/** Text with NUL, which PostgreSQL cannot hold: it came in a path or a query string, bodies are checked before. */
const UNSTORABLE = new Set(['22021', '22P05']);

interface AnyError extends Error {
  code?: string;
  statusCode?: number;
  validation?: readonly SchemaError[];
  validationContext?: string;
  cause?: unknown;
}

/** What Fastify says of bodies, in words of our own. */
const BODY_WORDS: Record<string, string> = {
  FST_ERR_CTP_INVALID_MEDIA_TYPE: 'This endpoint does not take that content type.',
  FST_ERR_CTP_BODY_TOO_LARGE: 'The body is larger than this endpoint takes.',
  FST_ERR_CTP_EMPTY_JSON_BODY: 'The body is empty.',
  FST_ERR_CTP_INVALID_CONTENT_LENGTH: 'The body is not as long as Content-Length says.',
  FST_ERR_CTP_INVALID_JSON_BODY: 'The body is not valid JSON.',
};

const asProblem = (error: AnyError): ProblemError | null => {
  if (error instanceof ProblemError) return error;
  if (error.validation) {
    const errors = fieldProblems(error.validation, error.validationContext ?? 'body');
    return new ProblemError(400, errors.map((e) => `${e.path}: ${e.problem}`).join('; '), { errors });
  }
  // Drizzle wraps the driver's error.
  if (isDatabaseAway(error) || (error.cause instanceof Error && isDatabaseAway(error.cause as AnyError)))
    return new ProblemError(503, 'The database does not answer. Nothing was changed; send it again.', {
      retryAfterSeconds: DATABASE_RETRY_S,
    });
  if (UNSTORABLE.has(error.code ?? ''))
    return new ProblemError(400, 'The address holds a character that cannot be stored.');
  const status = error.statusCode ?? 500;
  if (status >= 400 && status < 500)
    return new ProblemError(status, BODY_WORDS[error.code ?? ''] ?? STATUS_CODES[status] ?? 'Refused.');
  if (status === 503)
    return new ProblemError(503, 'The server is too busy just now.', { retryAfterSeconds: DATABASE_RETRY_S });
  return null;
};

export const sendProblem = (request: FastifyRequest, reply: FastifyReply, problem: ProblemError): FastifyReply => {
  if (problem.retryAfterSeconds !== undefined) reply.header('retry-after', String(problem.retryAfterSeconds));
  if (problem.status === 401) reply.header('www-authenticate', 'Bearer');
  const body: Problem = {
    type: 'about:blank',
    title: STATUS_CODES[problem.status] ?? 'Error',
    status: problem.status,
    detail: problem.message,
    instance: request.id,
    ...(problem.errors ? { errors: [...problem.errors] } : {}),
  };
  // Serialised here: a route's own response schema must not drop a field of the problem.
  return reply
    .code(problem.status)
    .type('application/problem+json')
    .serializer((value: unknown) => JSON.stringify(value))
    .send(body);
};

/** @param page what an address without a route shows to a browser; null: nothing */
export const answerErrors = (app: App, log: Log, page: (request: FastifyRequest) => Promise<Buffer | null>): void => {
  app.setErrorHandler((error: AnyError, request, reply) => {
    const problem = asProblem(error);
    if (problem === null || problem.status >= 500)
      log.error(
        { error, request: request.id, method: request.method, path: request.url.split('?')[0] },
        'A request failed',
      );
    return sendProblem(request, reply, problem ?? new ProblemError(500, 'Something went wrong inside the server.'));
  });
  app.setNotFoundHandler(async (request, reply) => {
    const found = await page(request);
    if (found !== null) return reply.type('text/html; charset=utf-8').header('cache-control', 'no-cache').send(found);
    return sendProblem(request, reply, notFound(`There is no ${request.method} ${request.url.split('?')[0]}.`));
  });
};
