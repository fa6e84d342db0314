/**
 * What all test files of a run share: one PostgreSQL cluster with a migrated template database. Projects that need it
 * run in one process and ask one after another; the last one to leave stops it.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { findBinaries } from '../../server/start/binaries.ts';
import { type Cluster, startCluster } from '../../server/start/cluster.ts';
import { chooseServant } from '../../server/start/servant.ts';
import { openBareClient } from '../../shared/db/connect.ts';
import { migrateDatabase } from '../../shared/db/migrate.ts';
import { makeLog } from '../../shared/log.ts';
import { TEMPLATE } from './services.ts';

declare module 'vitest' {
  export interface ProvidedContext {
    /** Address of the run's cluster, database `postgres`. */
    clusterUrl: string;
  }
}

/** The data is thrown away with the run, so nothing waits for a disk. */
const HASTY = {
  fsync: 'off',
  synchronous_commit: 'off',
  full_page_writes: 'off',
  autovacuum: 'off',
  max_connections: '400',
  logging_collector: 'off',
};

interface Running {
  cluster: Cluster;
  folder: string;
  users: number;
}

const shared = globalThis as { ullageTestServices?: Promise<Running> | undefined };

async function start(): Promise<Running> {
  const folder = mkdtempSync(join(tmpdir(), 'ullage-tests-'));
  const binaries = findBinaries(join(import.meta.dirname, '../..'));
  if (binaries === null) throw new Error('No PostgreSQL to test with: neither in node_modules nor on this system');
  const cluster = await startCluster({ dataDir: folder, binaries, servant: chooseServant(), settings: HASTY });
  const log = makeLog({ process: 'tests', level: 'warn' });
  const client = openBareClient(cluster.url('postgres'), { applicationName: 'ullage-tests', log });
  await client.unsafe(`create database ${TEMPLATE}`);
  await client.end();
  await migrateDatabase(cluster.url(TEMPLATE), log);
  return { cluster, folder, users: 0 };
}

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  shared.ullageTestServices ??= start();
  const running = await shared.ullageTestServices;
  running.users += 1;
  project.provide('clusterUrl', running.cluster.url('postgres'));
  return async () => {
    running.users -= 1;
    if (running.users > 0) return;
    shared.ullageTestServices = undefined;
    await running.cluster.stop();
    rmSync(running.folder, { recursive: true, force: true });
  };
}
