/** How far the analysis is behind. */
import { object, Type } from '../../shared/contract/schema.ts';
import { countOutstanding } from '../../shared/db/ingest.ts';
import type { App, Deps } from '../deps.ts';

export const backlogRoutes = (app: App, { db }: Deps): void => {
  app.get(
    '/api/v1/backlog',
    {
      schema: {
        summary: 'Scans accepted and not yet analysed; 0: every answer is up to date',
        tags: ['scans'],
        response: { 200: object({ scans: Type.Integer() }) },
      },
      config: { policy: 'viewer' },
    },
    async () => ({ scans: await countOutstanding(db.sql) }),
  );
};
