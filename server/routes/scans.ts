/** Scans in. */

import { Scan, ScanAnswer } from '../../shared/contract/scans.ts';
import { object, Type } from '../../shared/contract/schema.ts';
import { whoAsks } from '../access.ts';
import { gauge } from '../backPressure.ts';
import type { App, Deps } from '../deps.ts';
import { ProblemError } from '../errors.ts';
import { acceptScans } from '../ingest/acceptScans.ts';
import type { Judge } from '../ingest/judgeScan.ts';
import { parseJsonScans, parseLineScans, type Sent } from '../ingest/parseScans.ts';
import { MOST_UNPACKED_BYTES, readBody } from '../ingest/readBody.ts';
import type { Metrics } from '../metrics.ts';
import { nudgeWithin } from '../nudge.ts';

const ScansBody = object(
  { scans: Type.Array(Scan, { maxItems: 2000 }) },
  'Optionally with Content-Encoding: gzip. At most 2,000 scans and 16 MiB unpacked.',
);

export const scanRoutes = (app: App, deps: Deps, metrics: Metrics): void => {
  const { db, now } = deps;
  const pressure = gauge(deps);

  app.register(async (scope: App) => {
    scope.removeAllContentTypeParsers();
    const take =
      (parse: (bytes: Buffer) => Sent[]) => async (request: { headers: Record<string, unknown> }, payload: unknown) =>
        parse(await readBody(payload as never, request.headers['content-encoding'] as string | undefined));
    scope.addContentTypeParser('application/json', { bodyLimit: MOST_UNPACKED_BYTES }, take(parseJsonScans));
    scope.addContentTypeParser('application/x-ndjson', { bodyLimit: MOST_UNPACKED_BYTES }, take(parseLineScans));

    scope.post(
      '/api/v1/scans',
      {
        // The body is judged scan by scan, not as a whole: its schema here is for readers of the description.
        attachValidation: true,
        schema: {
          summary: 'Send scans',
          tags: ['scans'],
          body: {
            content: {
              'application/json': { schema: ScansBody },
              'application/x-ndjson': { schema: Type.String({ description: 'A scan a line' }) },
            },
          },
          response: { 200: ScanAnswer },
        },
        config: { policy: 'gateway', takesGzip: true },
        preParsing: async () => pressure.refuseWhenFull(),
      },
      async (request) => {
        const { validationError } = request;
        if (validationError && validationError.validationContext !== 'body') throw validationError;
        // Without a content type there is no body, whatever was meant.
        if (request.body === undefined) throw new ProblemError(400, 'There is no body with scans.');
        const who = whoAsks(request);
        const { answer, chambers } = await acceptScans(request.body as unknown as Sent[], {
          sql: db.sql,
          now: now(),
          token: who.by,
          mayFor: who.analysers,
          fitsSchema: request.compileValidationSchema(Scan as never) as unknown as Judge['fitsSchema'],
        });
        metrics.scans.inc({ verdict: 'accepted' }, answer.accepted);
        metrics.scans.inc({ verdict: 'duplicate' }, answer.duplicates);
        metrics.scans.inc({ verdict: 'rejected' }, answer.rejected.length);
        await nudgeWithin(deps, chambers);
        return answer;
      },
    );
  });
};
