/** Real services for tests: databases, Redis, a browser. Each is asked for by the test that needs it. */
import { randomBytes } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inject } from 'vitest';
import { findBinaries } from '../../server/start/binaries.ts';
import { type Cluster, startCluster } from '../../server/start/cluster.ts';
import { chooseServant } from '../../server/start/servant.ts';
import { withDatabase } from '../../shared/db/address.ts';
import { openBareClient } from '../../shared/db/connect.ts';
import { migrateDatabase } from '../../shared/db/migrate.ts';
import type { Log } from '../../shared/log.ts';
import { onPath } from './onPath.ts';

export { type RedisOptions, type RedisServer, redisServer } from './redis.ts';

/** The migrated database that fresh ones are copied from. */
export const TEMPLATE = 'ullage_template';

export const quiet: Log = { info: () => {}, warn: () => {}, error: () => {} };

export interface FreshDatabase {
  url: string;
  /** Ends its sessions and removes it. */
  drop: () => Promise<void>;
}

/** A database of its own, migrated and empty, in the cluster of this run (which does not survive a crash). */
export async function freshDatabase(options: { migrated?: boolean } = {}): Promise<FreshDatabase> {
  const clusterUrl = inject('clusterUrl');
  const name = `t_${randomBytes(8).toString('hex')}`;
  const template = options.migrated === false ? 'template1' : TEMPLATE;
  await once(clusterUrl, `create database ${name} template ${template}`);
  return {
    url: withDatabase(clusterUrl, name),
    drop: () => once(clusterUrl, `drop database if exists ${name} with (force)`),
  };
}

async function once(url: string, statement: string): Promise<void> {
  const client = openBareClient(url, { applicationName: 'ullage-tests', log: quiet });
  try {
    await client.unsafe(statement);
  } finally {
    await client.end({ timeout: 5 });
  }
}

export interface OwnCluster {
  cluster: Cluster;
  /** Of a migrated, empty database in it. */
  url: string;
  /** Starts it again on the same data, after it was stopped or killed. */
  restart: () => Promise<void>;
  remove: () => Promise<void>;
}

/**
 * A PostgreSQL for one test alone, as durable as in earnest: for tests that kill it, or ask what a crash leaves.
 */
export async function ownCluster(settings: Record<string, string> = {}): Promise<OwnCluster> {
  const dataDir = mkdtempSync(join(tmpdir(), 'ullage-cluster-'));
  const binaries = findBinaries(join(import.meta.dirname, '../..'));
  if (binaries === null) throw new Error('No PostgreSQL to test with: neither in node_modules nor on this system');
  const start = () => startCluster({ dataDir, binaries, servant: chooseServant(), settings });
  const own: OwnCluster = {
    cluster: await start(),
    url: '',
    restart: async () => {
      own.cluster = await start();
      own.url = own.cluster.url('ullage');
    },
    remove: async () => {
      await own.cluster.stop();
      rmSync(dataDir, { recursive: true, force: true });
    },
  };
  own.url = own.cluster.url('ullage');
  await once(own.cluster.url('postgres'), 'create database ullage');
  await migrateDatabase(own.url, quiet);
  return own;
}

/** @throws {Error} where there is no browser: a test that needs one must not pass without */
export function chromiumPath(): string {
  const found = ['chromium', 'chromium-browser', 'google-chrome'].map(onPath).find((path) => path !== null);
  if (!found) throw new Error('No Chromium on PATH: install the package chromium');
  return found;
}
