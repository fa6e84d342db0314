/** Scans that were rejected: what was sent, and why it was not taken. */
import { Instant, nullable, object, Type } from '../../shared/contract/schema.ts';
import type { App, Deps } from '../deps.ts';
import { iso } from '../instant.ts';

const RejectLine = object({
  id: Type.Integer(),
  receivedAt: Instant,
  token: Type.String(),
  analyser: nullable(Type.String()),
  scanId: nullable(Type.String()),
  index: Type.Integer({ description: 'Place in its request' }),
  problem: Type.String(),
  body: Type.String({ description: 'As sent, at most 64 kB of it' }),
});

export const rejectRoutes = (app: App, { db }: Deps): void => {
  app.get(
    '/api/v1/rejects',
    {
      schema: {
        summary: 'Scans that were rejected, newest first, with the reason',
        tags: ['scans'],
        querystring: object({
          limit: Type.Optional(Type.Integer({ minimum: 1, maximum: 1000, default: 200 })),
          before: Type.Optional(Type.Integer({ minimum: 1, description: 'Those older than this id' })),
          analyser: Type.Optional(Type.String({ maxLength: 200 })),
        }),
        response: { 200: object({ rejects: Type.Array(RejectLine) }) },
      },
      config: { policy: 'engineer' },
    },
    async (request) => {
      const { limit = 200, before, analyser } = request.query;
      const rows = await db.sql<
        {
          id: string;
          received_at: Date;
          token: string;
          analyser: string | null;
          scan_id: string | null;
          position: number;
          problem: string;
          body: string;
        }[]
      >`
        select * from rejects
        where (${before ?? null}::bigint is null or id < ${before ?? null}::bigint)
          and (${analyser ?? null}::text is null or analyser = ${analyser ?? null})
        order by id desc limit ${limit}`;
      return {
        rejects: rows.map((row) => ({
          id: Number(row.id),
          receivedAt: iso(row.received_at),
          token: row.token,
          analyser: row.analyser,
          scanId: row.scan_id,
          index: row.position,
          problem: row.problem,
          body: row.body,
        })),
      };
    },
  );
};
