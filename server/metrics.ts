/** Counters and gauges in the Prometheus text format. Labels come from short fixed lists: never a chamber or a name. */
import { Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client';
import { countOutstanding } from '../shared/db/ingest.ts';
import type { App, Deps } from './deps.ts';

export interface Metrics {
  registry: Registry;
  scans: Counter<'verdict'>;
  eventClients: Gauge;
}

export const makeMetrics = ({ db, now, log }: Deps): Metrics => {
  const registry = new Registry();
  collectDefaultMetrics({ register: registry });
  const own = { registers: [registry] };
  // The registry asks each gauge when it is scraped; without an answer the old figure must not stand.
  const asked = (name: string, help: string, ask: () => Promise<number>) =>
    new Gauge({
      ...own,
      name,
      help,
      async collect() {
        this.set(
          await ask().catch((error: unknown) => {
            log.warn({ error, metric: name }, 'A metric has no answer');
            return Number.NaN;
          }),
        );
      },
    });
  asked('ullage_backlog_scans', 'Scans accepted and not yet analysed', () => countOutstanding(db.sql));
  asked('ullage_backlog_oldest_seconds', 'Age of the oldest scan that waits to be analysed', async () => {
    const [row] = await db.sql<{ at: Date | null }[]>`select min(received_at) as at from outstanding_scans`;
    return row?.at ? (now().getTime() - row.at.getTime()) / 1000 : 0;
  });
  asked('ullage_alerts_open', 'Alerts that are not over', async () => {
    const [row] = await db.sql<{ n: number }[]>`select count(*)::int as n from alerts where state <> 'normal'`;
    return row?.n ?? 0;
  });
  return {
    registry,
    scans: new Counter({ ...own, name: 'ullage_scans_total', help: 'Scans received', labelNames: ['verdict'] }),
    eventClients: new Gauge({ ...own, name: 'ullage_event_clients', help: 'Open event streams' }),
  };
};

/** Times every answer by route pattern, method and class of status. */
export const timeRequests = (app: App, { registry }: Metrics): void => {
  const seconds = new Histogram({
    registers: [registry],
    name: 'ullage_http_request_seconds',
    help: 'Time to answer',
    labelNames: ['method', 'route', 'status'],
    buckets: [0.005, 0.02, 0.1, 0.5, 2, 10],
  });
  app.addHook('onResponse', async (request, reply) => {
    const route = request.routeOptions.url ?? 'none';
    const status = `${Math.floor(reply.statusCode / 100)}xx`;
    seconds.observe({ method: request.method, route, status }, reply.elapsedTime / 1000);
  });
};
