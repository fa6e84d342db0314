/** What a person sets for themselves, in whichever browser. */
import { Preferences } from '../../shared/contract/access.ts';
import { whoAsks } from '../access.ts';
import type { App, Deps } from '../deps.ts';
import { ProblemError } from '../errors.ts';

export const meRoutes = (app: App, { db }: Deps): void => {
  app.put(
    '/api/v1/me/preferences',
    {
      schema: {
        summary: 'Unit, theme, time zone and keys of the person who asks; GET /api/v1/session gives them back',
        tags: ['access'],
        body: Preferences,
        response: { 200: Preferences },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { kind, by } = whoAsks(request);
      if (kind === 'token')
        throw new ProblemError(403, 'A token has no preferences; what reads with it keeps its own.');
      await db.sql`update people set preferences = ${db.sql.json(request.body)} where login = ${by}`;
      return request.body;
    },
  );
};
