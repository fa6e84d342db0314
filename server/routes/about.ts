/** What is installed, how far behind it is, and what keeps it running. */
import { CATALOGUE_VERSION, GASES } from '../../shared/catalogue/gases.ts';
import { About, Backup, NewBackup, Operation } from '../../shared/contract/about.ts';
import { migrationLevel } from '../../shared/db/migrate.ts';
import { describeOperation, LAST_BACKUP, readLastBackup } from '../about/operation.ts';
import { whoAsks } from '../access.ts';
import { audited } from '../audit.ts';
import type { App, Deps } from '../deps.ts';
import { conflict, impossible, malformed } from '../errors.ts';
import { iso, parseInstant } from '../instant.ts';
import type { Metrics } from '../metrics.ts';

const tags = ['health'];

export const aboutRoutes = (app: App, deps: Deps, { eventClients }: Metrics): void => {
  const { db, now, log } = deps;
  const startedAt = iso(now());

  const waiting = async (): Promise<About['waiting']> => {
    const [row] = await db.sql<{ scans: number; oldest: Date | null; tasks: number }[]>`
      select count(*)::int as scans, min(received_at) as oldest,
        (select count(*)::int from tasks where state = 'waiting') as tasks
      from outstanding_scans`;
    const nudges = await deps.queueDepth?.().catch((error: unknown) => {
      log.warn({ error }, 'The queue cannot be counted');
      return null;
    });
    const oldestSeconds = row?.oldest ? Math.max(0, (now().getTime() - row.oldest.getTime()) / 1000) : null;
    return { scans: row?.scans ?? 0, oldestSeconds, tasks: row?.tasks ?? 0, nudges: nudges ?? null };
  };

  app.get(
    '/api/v1/about',
    {
      schema: { summary: 'Versions, and how far behind the answers are', tags, response: { 200: About } },
      config: { policy: 'viewer' },
    },
    async () => ({
      version: deps.version,
      catalogue: { version: CATALOGUE_VERSION, gases: GASES.length },
      migration: await migrationLevel(db.sql),
      waiting: await waiting(),
      startedAt,
    }),
  );

  app.get(
    '/api/v1/about/operation',
    {
      schema: { summary: 'Disk, database, last backup, processes, clocks', tags, response: { 200: Operation } },
      config: { policy: 'engineer' },
    },
    async () => {
      const eventStreams = (await eventClients.get()).values[0]?.value ?? 0;
      return describeOperation(db.sql, { dataDir: deps.dataDir, now: now(), eventStreams });
    },
  );

  backupRoute(app, deps);
};

/** Of what lies in the future nobody can have made a backup; clocks of scripts may be a little ahead. */
const AHEAD_MS = 5 * 60_000;

const backupRoute = (app: App, { db, now }: Deps): void => {
  app.post(
    '/api/v1/backups',
    {
      schema: {
        summary: 'Report that a backup was made; Ullage makes none and shows the age of the newest one reported',
        tags,
        body: NewBackup,
        response: { 201: Backup },
      },
      config: { policy: 'engineer' },
    },
    async (request, reply) => {
      const { at, kind, note = '' } = request.body;
      const atMs = parseInstant(at);
      if (atMs === null) throw malformed('/at', 'must be a time as in RFC 3339, with Z or an offset');
      if (atMs > now().getTime() + AHEAD_MS) throw impossible('/at', 'lies in the future');
      const { name: by } = whoAsks(request);
      const reportedAt = now();
      const backup = { at: iso(new Date(atMs)), kind, note, by, reportedAt: iso(reportedAt) };
      const kept = await db.transaction(async (tx) => {
        const rows = await tx`
          insert into settings (key, value) values (${LAST_BACKUP}, ${tx.json(backup)})
          on conflict (key) do update set value = excluded.value
          where settings.value->>'at' <= excluded.value->>'at' returning 1`;
        if (rows.length > 0) await audited(tx, { at: reportedAt, by, what: 'backup reported', detail: backup });
        return rows.length > 0;
      });
      if (!kept) throw conflict(`A newer backup has been reported: ${(await readLastBackup(db.sql))?.at}.`);
      return reply.code(201).send(backup);
    },
  );
};
