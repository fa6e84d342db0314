/** The whole server as one value: routes, access, errors. It never listens; main.ts and tests decide what to do with it. */
import { randomUUID } from 'node:crypto';
import { getHeapStatistics } from 'node:v8';
import cookie from '@fastify/cookie';
import swagger from '@fastify/swagger';
import type { TypeBoxTypeProvider } from '@fastify/type-provider-typebox';
import underPressure from '@fastify/under-pressure';
import Fastify from 'fastify';
import { checkAccess } from './access.ts';
import { checkBodies } from './bodies.ts';
import type { App, Deps } from './deps.ts';
import { answerErrors, ProblemError, sendProblem } from './errors.ts';
import { openEvents, startTelling } from './events.ts';
import { makeMetrics, timeRequests } from './metrics.ts';
import { pageAt, servePage } from './page.ts';
import { checkQueries } from './queries.ts';
import { aboutRoutes } from './routes/about.ts';
import { alertMoveRoutes } from './routes/alertMoves.ts';
import { alertRoutes } from './routes/alerts.ts';
import { backlogRoutes } from './routes/backlog.ts';
import { beforeAfterRoutes } from './routes/beforeAfter.ts';
import { calibrationRoutes } from './routes/calibrations.ts';
import { catalogueRoutes } from './routes/catalogue.ts';
import { chamberNoteRoutes } from './routes/chamberNotes.ts';
import { chamberRoutes } from './routes/chambers.ts';
import { comparisonRoutes } from './routes/comparison.ts';
import { exampleRoutes } from './routes/examples.ts';
import { fleetRoutes } from './routes/fleet.ts';
import { handoverRoutes } from './routes/handover.ts';
import { healthRoutes } from './routes/health.ts';
import { limitRoutes } from './routes/limits.ts';
import { meRoutes } from './routes/me.ts';
import { measurementRoutes } from './routes/measurement.ts';
import { peopleRoutes } from './routes/people.ts';
import { performanceRoutes } from './routes/performance.ts';
import { pinRoutes } from './routes/pins.ts';
import { planRoutes } from './routes/plan.ts';
import { rationalisationRoutes } from './routes/rationalisation.ts';
import { readingRoutes } from './routes/readings.ts';
import { rehearsalRoutes } from './routes/rehearsals.ts';
import { rejectRoutes } from './routes/rejects.ts';
import { roundRoutes } from './routes/round.ts';
import { scanLineRoutes } from './routes/scanLines.ts';
import { scanRoutes } from './routes/scans.ts';
import { sessionRoutes } from './routes/session.ts';
import { setUpRoutes } from './routes/setUp.ts';
import { signedRoundRoutes } from './routes/signedRounds.ts';
import { spectrumRoutes } from './routes/spectrum.ts';
import { taskRoutes } from './routes/tasks.ts';
import { ticketRoutes } from './routes/ticket.ts';
import { tokenRoutes } from './routes/tokens.ts';
import { trendRoutes } from './routes/trend.ts';

/** Fastify's own limits are all off by default. */
const REQUEST_TIMEOUT_MS = 60_000;
const CONNECTION_TIMEOUT_MS = 90_000;
const KEEP_ALIVE_TIMEOUT_MS = 65_000;
/** A few large bodies more and the process would end, with everything that it is doing. */
const MOST_HEAP_SHARE = 0.85;
const BODY_LIMIT_BYTES = 1024 * 1024;

export const buildApp = async (deps: Deps): Promise<App> => {
  const app = Fastify({
    logger: false,
    genReqId: () => randomUUID(),
    requestTimeout: REQUEST_TIMEOUT_MS,
    connectionTimeout: CONNECTION_TIMEOUT_MS,
    keepAliveTimeout: KEEP_ALIVE_TIMEOUT_MS,
    bodyLimit: BODY_LIMIT_BYTES,
    // An address that cannot be read never reaches the routes and their error handler.
    frameworkErrors: (_error, request, reply) => {
      reply.header('x-request-id', request.id);
      sendProblem(request, reply, new ProblemError(400, 'The address cannot be read.'));
    },
    // A null must never become 0, and what is not known is refused instead of dropped.
    ajv: {
      customOptions: {
        coerceTypes: false,
        removeAdditional: false,
        useDefaults: false,
        allErrors: false,
        discriminator: true,
      },
    },
  }).withTypeProvider<TypeBoxTypeProvider>() as unknown as App;

  answerErrors(app, deps.log, (request) => pageAt(deps.webRoot, request));
  app.addHook('onRequest', async (request, reply) => {
    reply.header('x-request-id', request.id);
    if (request.url.startsWith('/api/')) reply.header('cache-control', 'no-store');
  });
  await app.register(cookie);
  await app.register(underPressure, {
    maxHeapUsedBytes: MOST_HEAP_SHARE * getHeapStatistics().heap_size_limit,
    pressureHandler: (request) => {
      if (/^\/(health|metrics)/.test(request.url)) return;
      throw new ProblemError(503, 'The server has more to do than it can.', { retryAfterSeconds: 5 });
    },
  });
  await app.register(swagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Ullage',
        version: deps.version,
        description: 'Watch over the gas that is left in vacuum chambers',
      },
      components: {
        securitySchemes: {
          token: { type: 'http', scheme: 'bearer' },
          session: { type: 'apiKey', in: 'cookie', name: 'ullage_session' },
        },
      },
      security: [{ token: [] }, { session: [] }],
    },
  });
  checkAccess(app, deps);
  checkQueries(app);
  checkBodies(app);
  const metrics = makeMetrics(deps);
  timeRequests(app, metrics);
  const told = startTelling();

  scanRoutes(app, deps, metrics);
  backlogRoutes(app, deps);
  rejectRoutes(app, deps);
  fleetRoutes(app, deps);
  tokenRoutes(app, deps);
  sessionRoutes(app, deps, told);
  setUpRoutes(app, deps, told);
  meRoutes(app, deps);
  aboutRoutes(app, deps, metrics);
  peopleRoutes(app, deps);
  chamberRoutes(app, deps);
  readingRoutes(app, deps);
  trendRoutes(app, deps);
  limitRoutes(app, deps);
  measurementRoutes(app, deps);
  scanLineRoutes(app, deps);
  performanceRoutes(app, deps);
  planRoutes(app, deps);
  comparisonRoutes(app, deps);
  beforeAfterRoutes(app, deps);
  calibrationRoutes(app, deps);
  taskRoutes(app, deps);
  pinRoutes(app, deps);
  rehearsalRoutes(app, deps);
  exampleRoutes(app, deps);
  alertRoutes(app, deps);
  alertMoveRoutes(app, deps);
  rationalisationRoutes(app, deps);
  roundRoutes(app, deps);
  signedRoundRoutes(app, deps);
  handoverRoutes(app, deps);
  catalogueRoutes(app);
  chamberNoteRoutes(app, deps);
  spectrumRoutes(app, deps);
  ticketRoutes(app, deps);
  openEvents(app, deps, metrics, told);
  healthRoutes(app, deps, metrics);
  await servePage(app, deps.webRoot);
  return app;
};
