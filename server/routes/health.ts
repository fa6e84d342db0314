/** Whether the server lives, whether it is ready, and its figures. Open: they name no chamber and no person. */
import { object, Type, words } from '../../shared/contract/schema.ts';
import { countOutstanding } from '../../shared/db/ingest.ts';
import { MOST_OUTSTANDING } from '../backPressure.ts';
import type { App, Deps } from '../deps.ts';
import type { Metrics } from '../metrics.ts';

/** A service that takes longer than this is not ready. */
const PATIENCE_MS = 3_000;

const Check = object({ ok: Type.Boolean(), says: Type.Optional(Type.String()) });
const Ready = object({
  status: words(['ready', 'not ready'] as const),
  database: Check,
  queue: Check,
  backlog: object({ ok: Type.Boolean(), scans: Type.Union([Type.Integer(), Type.Null()]) }),
});

const within = async <T>(work: Promise<T>): Promise<T> => {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_done, fail) => {
    timer = setTimeout(() => fail(new Error('no answer')), PATIENCE_MS);
  });
  return Promise.race([work, late]).finally(() => clearTimeout(timer));
};

export const healthRoutes = (app: App, deps: Deps, { registry }: Metrics): void => {
  const config = { policy: 'open' } as const;
  const { db, log } = deps;

  const check = async (name: string, ask: () => Promise<unknown>) => {
    try {
      await within(ask());
      return { ok: true };
    } catch (error) {
      log.warn({ error }, `Not ready: the ${name} does not answer`);
      return { ok: false, says: `The ${name} does not answer.` };
    }
  };

  app.get(
    '/health/live',
    { schema: { tags: ['health'], response: { 200: object({ status: Type.Literal('live') }) } }, config },
    async () => ({ status: 'live' as const }),
  );

  app.get(
    '/health/ready',
    { schema: { tags: ['health'], response: { 200: Ready, 503: Ready } }, config },
    async (_request, reply) => {
      const [database, queue, scans] = await Promise.all([
        check('database', () => db.sql`select 1`),
        check('queue', deps.queueAnswers),
        within(countOutstanding(db.sql)).catch(() => null),
      ]);
      const backlog = { ok: scans !== null && scans <= (deps.mostOutstanding ?? MOST_OUTSTANDING), scans };
      const ready = database.ok && queue.ok && backlog.ok;
      if (!ready) reply.header('retry-after', '3');
      return reply
        .code(ready ? 200 : 503)
        .send({ status: ready ? ('ready' as const) : ('not ready' as const), database, queue, backlog });
    },
  );

  app.get(
    '/metrics',
    { schema: { tags: ['health'], response: { 200: Type.String() } }, config },
    async (_request, reply) => {
      reply.type(registry.contentType);
      return await registry.metrics();
    },
  );

  app.get(
    '/api/v1/openapi.json',
    {
      schema: {
        tags: ['health'],
        summary: 'This description',
        response: { 200: Type.Record(Type.String(), Type.Any()) },
      },
      config,
    },
    async () => app.swagger() as unknown as Record<string, unknown>,
  );
};
