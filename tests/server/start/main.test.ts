/** The start story as a stranger lives it: one command, a data folder, a port. */
import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { chmodSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, describe, expect, it } from 'vitest';
import { isAlive } from '../../../server/start/cluster.ts';
import { freePort } from '../../support/redis.ts';
import { freshDatabase, redisServer } from '../../support/services.ts';

const root = join(import.meta.dirname, '../../..');
const scratch = mkdtempSync(join(tmpdir(), 'ullage-start-test-'));
const running = new Set<ChildProcess>();

interface Started {
  child: ChildProcess;
  url: string;
  output: () => string;
  /** Resolves when the output holds the text, rejects when the process ends first. */
  says: (text: string | RegExp) => Promise<string>;
  ended: Promise<number | null>;
}

function start(
  environment: Record<string, string>,
  args = ['server/start/bootstrap.mjs'],
  program = process.execPath,
): Started {
  const child = spawn(program, args, {
    cwd: root,
    env: { ...process.env, DATABASE_URL: '', REDIS_URL: '', ULLAGE_ADMIN_TOKEN: '', HOST: '127.0.0.1', ...environment },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  running.add(child);
  let output = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream.on('data', (data: Buffer) => {
      output += data.toString();
    });
  }
  const ended = new Promise<number | null>((done) =>
    child.once('close', (code) => {
      running.delete(child);
      done(code);
    }),
  );
  const says = async (text: string | RegExp): Promise<string> => {
    let over = false;
    void ended.then(() => {
      over = true;
    });
    for (;;) {
      const found = typeof text === 'string' ? (output.includes(text) ? text : null) : text.exec(output)?.[0];
      if (found) return found;
      if (over) throw new Error(`ended without saying ${text}:\n${output}`);
      await sleep(50);
    }
  };
  return { child, url: `http://127.0.0.1:${environment.PORT}`, output: () => output, says, ended };
}

async function stop(started: Started): Promise<void> {
  started.child.kill('SIGTERM');
  expect(await started.ended, started.output()).toBe(0);
}

afterAll(async () => {
  for (const child of running) {
    const gone = new Promise((done) => child.once('close', done));
    child.kill('SIGTERM');
    await gone;
  }
  rmSync(scratch, { recursive: true, force: true });
});

/** Processes whose environment or command line names this folder. */
function processesOf(folder: string): number[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .map(Number)
    .filter((pid) => {
      try {
        const about = readFileSync(`/proc/${pid}/cmdline`, 'utf8') + readFileSync(`/proc/${pid}/environ`, 'utf8');
        return about.includes(folder) && isAlive(pid);
      } catch {
        return false;
      }
    });
}

const folder = (name: string): string => join(scratch, name);
const tokenIn = (output: string): string => /shown this once: (\S+)/.exec(output)?.[1] ?? '';
const ask = (started: Started, path: string, token: string) =>
  fetch(started.url + path, { headers: { authorization: `Bearer ${token}` } });

describe('npm start', () => {
  it('answers, says how to come in once, stops without a trace, and starts again with what it had', async () => {
    chmodSync(scratch, 0o700);
    const environment = { PORT: String(await freePort()), ULLAGE_DATA_DIR: folder('first') };
    const first = start(environment);
    await first.says(`Ullage answers at ${first.url}\n`);
    const link = await first.says(/http:\S+\/set-up\?key=\S+/);
    expect(link.startsWith(first.url)).toBe(true);
    const token = tokenIn(first.output());
    expect((await ask(first, '/api/v1/tokens', token)).status).toBe(200);
    expect((await fetch(`${first.url}/health/ready`)).status).toBe(200);
    expect((await fetch(first.url)).headers.get('content-type')).toMatch(/html/);
    await stop(first);
    expect(processesOf(folder('first'))).toEqual([]);

    const second = start(environment);
    await second.says(/set-up\?key=/);
    expect(second.output()).not.toContain('shown this once');
    expect((await ask(second, '/api/v1/tokens', token)).status).toBe(200);
    await stop(second);
  });

  it.each(['SIGTERM', 'SIGKILL'] as const)('ends when only npm gets %s', async (signal) => {
    const one = start({ PORT: String(await freePort()), ULLAGE_DATA_DIR: folder(signal) }, ['start'], 'npm');
    await one.says('Ullage answers at');
    one.child.kill(signal);
    const code = await one.ended;
    if (signal === 'SIGTERM') expect(code).toBe(0);
    await expect.poll(() => processesOf(folder(signal)), { timeout: 60_000 }).toEqual([]);
  });

  it('runs beside another one', async () => {
    const ports = [await freePort(), await freePort()];
    const both = ports.map((port, i) => start({ PORT: String(port), ULLAGE_DATA_DIR: folder(`beside-${i}`) }));
    for (const one of both) await one.says('Ullage answers at');
    await Promise.all(both.map(stop));
  });

  it('comes back after kill -9 of everything that node runs, and after kill -9 of PostgreSQL', async () => {
    const environment = { PORT: String(await freePort()), ULLAGE_DATA_DIR: folder('killed') };
    const first = start(environment);
    await first.says('shown this once');
    const token = tokenIn(first.output());
    first.child.kill('SIGKILL');
    await first.ended;
    // At once: the old server may still hold the port, and PostgreSQL lives on.
    const second = start(environment);
    await second.says('Ullage answers at');
    const status = () => ask(second, '/api/v1/tokens', token).then((answer) => answer.status, String);
    await expect.poll(status, { timeout: 120_000 }).toBe(200);

    const postmaster = Number(
      readFileSync(join(folder('killed'), postgresFolder(), 'postmaster.pid'), 'utf8').split('\n')[0],
    );
    process.kill(postmaster, 'SIGKILL');
    await second.says('PostgreSQL ended and is started again');
    await expect.poll(status, { timeout: 120_000 }).toBe(200);
    await stop(second);
    expect(processesOf(folder('killed'))).toEqual([]);
  });

  it('starts a child again that was killed', async () => {
    const environment = { PORT: String(await freePort()), ULLAGE_DATA_DIR: folder('children'), ULLAGE_WORKERS: '2' };
    const one = start(environment);
    await one.says('shown this once');
    const children = processesOf(folder('children')).filter((pid) => /(server|workers)\/main\.ts/.test(commandOf(pid)));
    expect(children.length).toBe(3);
    for (const pid of children) process.kill(pid, 'SIGKILL');
    await one.says(/started again.*"child":"server"/);
    await expect
      .poll(async () => (await fetch(`${one.url}/health/ready`).catch(() => null))?.status, { timeout: 120_000 })
      .toBe(200);
    await stop(one);
  });

  it('refuses a second start on the same data, and a port that is taken, by name', async () => {
    const port = await freePort();
    const one = start({ PORT: String(port), ULLAGE_DATA_DIR: folder('mine') });
    await one.says('Ullage answers at');
    const twin = start({ PORT: String(await freePort()), ULLAGE_DATA_DIR: folder('mine') });
    expect(await twin.ended).toBe(1);
    expect(twin.output()).toContain(`Another Ullage runs on the data folder ${folder('mine')}`);
    const rival = start({ PORT: String(port), ULLAGE_DATA_DIR: folder('rival') });
    expect(await rival.ended).toBe(1);
    expect(rival.output()).toMatch(new RegExp(`PORT ${port} .* in use`));
    expect((await fetch(`${one.url}/health/ready`)).status).toBe(200);
    await stop(one);
  });

  it('names every setting at fault', async () => {
    const one = start({ PORT: 'many', ULLAGE_WORKERS: '0', ULLAGE_ADMIN_TOKEN: 'short', DATABASE_URL: 'mysql://x' });
    expect(await one.ended).toBe(1);
    for (const name of ['PORT', 'ULLAGE_WORKERS', 'ULLAGE_ADMIN_TOKEN', 'DATABASE_URL']) {
      expect(one.output()).toContain(`  ${name}: `);
    }
    expect(one.output()).not.toMatch(/^\s+at /m);
  });

  it('uses the PostgreSQL and the Redis that it is told of, and its own admin token', async () => {
    const fresh = await freshDatabase({ migrated: false });
    const redis = await redisServer();
    const adminToken = 'an-admin-token-of-more-than-32-characters';
    const one = start({
      PORT: String(await freePort()),
      ULLAGE_DATA_DIR: folder('unused'),
      DATABASE_URL: fresh.url,
      REDIS_URL: redis.url,
      ULLAGE_ADMIN_TOKEN: adminToken,
    });
    await one.says('set-up?key=');
    expect(one.output()).not.toContain('shown this once');
    expect((await ask(one, '/api/v1/tokens', adminToken)).status).toBe(200);
    expect(existsSync(folder('unused'))).toBe(false);
    await stop(one);
    await redis.remove();
    await fresh.drop();
  });

  it('refuses a Redis that may forget, and a database that does not answer', async () => {
    const redis = await redisServer({ maxmemoryPolicy: 'allkeys-lru' });
    const one = start({ PORT: String(await freePort()), ULLAGE_DATA_DIR: folder('r'), REDIS_URL: redis.url });
    expect(await one.ended).toBe(1);
    expect(one.output()).toMatch(/REDIS_URL.*noeviction/);
    await redis.remove();
    const nowhere = start({
      PORT: String(await freePort()),
      DATABASE_URL: `postgres://u@127.0.0.1:${await freePort()}/d`,
    });
    expect(await nowhere.ended).toBe(1);
    expect(nowhere.output()).toMatch(/DATABASE_URL.*cannot be used/);
  });
});

describe('npm run demo:remove', () => {
  it('deletes the folder of an example and no other', async () => {
    const port = await freePort();
    const environment = { PORT: String(port), ULLAGE_DATA_DIR: folder('example') };
    const demo = start(environment, ['server/start/bootstrap.mjs', '--demo']);
    await demo.says('Ullage answers at');
    const early = start(environment, ['--import', 'tsx', 'server/start/removeDemo.ts']);
    expect(await early.ended).toBe(1);
    expect(early.output()).toContain('Another Ullage runs');
    await stop(demo);
    const removal = start(environment, ['--import', 'tsx', 'server/start/removeDemo.ts']);
    expect(await removal.ended, removal.output()).toBe(0);
    expect(existsSync(folder('example'))).toBe(false);

    const real = start({ PORT: String(port), ULLAGE_DATA_DIR: folder('first') }, [
      '--import',
      'tsx',
      'server/start/removeDemo.ts',
    ]);
    expect(await real.ended).toBe(1);
    expect(real.output()).toContain('nothing is deleted');
    expect(existsSync(folder('first'))).toBe(true);
  });

  it('empties a database only when it holds the example', async () => {
    const fresh = await freshDatabase({ migrated: false });
    const port = await freePort();
    const environment = { PORT: String(port), DATABASE_URL: fresh.url, ULLAGE_DATA_DIR: folder('none') };
    const remove = ['--import', 'tsx', 'server/start/removeDemo.ts'];
    const empty = start(environment, remove);
    expect(await empty.ended).toBe(1);
    const demo = start(environment, ['server/start/bootstrap.mjs', '--demo']);
    await demo.says('Ullage answers at');
    await demo.says('example:');
    const early = start(environment, remove);
    expect(await early.ended).toBe(1);
    expect(early.output()).toContain('stop it first');
    await stop(demo);
    const removal = start(environment, remove);
    expect(await removal.ended, removal.output()).toBe(0);
    const again = start(environment);
    await again.says('shown this once');
    const fleet = await (await ask(again, '/api/v1/fleet', tokenIn(again.output()))).json();
    expect(fleet).toMatchObject({ areas: [], chambers: [], analysers: [] });
    await stop(again);
    await fresh.drop();
  });
});

function commandOf(pid: number): string {
  return execFileSync('ps', ['-o', 'args=', '-p', String(pid)], { encoding: 'utf8' });
}

function postgresFolder(): string {
  const found = readdirSync(folder('killed')).find((name) => /^postgresql-\d+$/.test(name));
  if (found === undefined) throw new Error('The data folder holds no cluster');
  return found;
}
