/** The whole product as a stranger starts it: `npm start` in a child process, on a free port, with an empty data folder. */
import { type ChildProcess, spawn } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';

const root = resolve(import.meta.dirname, '../..');

export const freePort = (): Promise<number> =>
  new Promise((done, fail) => {
    const probe = createServer();
    probe.once('error', fail);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() => (typeof address === 'object' && address ? done(address.port) : fail(new Error('no port'))));
    });
  });

export interface Stack {
  readonly url: string;
  readonly adminToken: string;
  readonly output: () => string;
  /** JSON in, JSON out; throws with the answer's text when the status is not the expected one. */
  readonly ask: <T>(
    method: string,
    path: string,
    body?: unknown,
    options?: { status?: number; token?: string },
  ) => Promise<T>;
  readonly untilAnalysed: () => Promise<void>;
  readonly stop: () => Promise<void>;
}

const waitFor = async (what: string, seconds: number, ready: () => Promise<boolean>, log: () => string) => {
  for (let i = 0; i < seconds * 5; i++) {
    if (await ready()) return;
    await sleep(200);
  }
  throw new Error(`${what} did not happen within ${seconds} s:\n${log().slice(-4000)}`);
};

const endOf = async (child: ChildProcess) => {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const gone = new Promise((done) => child.once('exit', done));
  child.kill('SIGTERM');
  await Promise.race([gone, sleep(15_000).then(() => child.kill('SIGKILL'))]);
  await gone;
};

/** Starts the product with `environment` on top of this process's; `args` go to the start script (`--demo`). */
export const startStack = async (environment: Record<string, string> = {}, args: string[] = []): Promise<Stack> => {
  const port = await freePort();
  const folder = mkdtempSync(join(tmpdir(), 'ullage-stack-'));
  const adminToken = randomBytes(24).toString('hex');
  const env = {
    ...process.env,
    DATABASE_URL: '',
    REDIS_URL: '',
    HOST: '127.0.0.1',
    PORT: String(port),
    ULLAGE_DATA_DIR: folder,
    ULLAGE_ADMIN_TOKEN: adminToken,
    ...environment,
  };
  const child = spawn(process.execPath, ['server/start/bootstrap.mjs', ...args], {
    cwd: root,
    env,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let output = '';
  child.stdout.on('data', (data: Buffer) => {
    output += data.toString();
  });
  child.stderr.on('data', (data: Buffer) => {
    output += data.toString();
  });
  const url = `http://127.0.0.1:${port}`;
  const stop = async () => {
    await endOf(child);
    rmSync(folder, { recursive: true, force: true });
  };
  const ask: Stack['ask'] = async <T>(
    method: string,
    path: string,
    body?: unknown,
    options: { status?: number; token?: string } = {},
  ) => {
    const headers: Record<string, string> = { authorization: `Bearer ${options.token ?? adminToken}` };
    if (body !== undefined) headers['content-type'] = 'application/json';
    const answer = await fetch(url + path, {
      method,
      headers,
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    const text = await answer.text();
    if (answer.status !== (options.status ?? (method === 'POST' && path.endsWith('/tokens') ? 201 : 200)))
      throw new Error(`${method} ${path} → ${answer.status}: ${text.slice(0, 1000)}`);
    return (text === '' ? undefined : JSON.parse(text)) as T;
  };
  try {
    await waitFor(
      'an answer',
      120,
      async () => {
        if (child.exitCode !== null)
          throw new Error(`the product ended with ${child.exitCode}:\n${output.slice(-4000)}`);
        return fetch(`${url}/health/ready`).then(
          (answer) => answer.ok,
          () => false,
        );
      },
      () => output,
    );
  } catch (error) {
    await stop();
    throw error;
  }
  const untilAnalysed = () =>
    waitFor(
      'an empty backlog',
      300,
      async () => (await ask<{ scans: number }>('GET', '/api/v1/backlog')).scans === 0,
      () => output,
    );
  return { url, adminToken, output: () => output, ask, untilAnalysed, stop };
};
