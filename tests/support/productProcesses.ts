/** Server and workers as child processes on services that a test holds, started again when they die. */
import { type ChildProcess, spawn } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { resolve } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { freePort } from './stack.ts';

const root = resolve(import.meta.dirname, '../..');
/** As patient as a supervisor is. */
const RESTART_AFTER_MS = 200;
const SHOWN_OUTPUT = 6_000;

export interface Product {
  readonly url: string;
  readonly adminToken: string;
  /** SIGKILL to one process of this kind; it is started again a moment later. */
  readonly kill: (what: 'server' | 'worker') => void;
  /** Resolves when the server answers. */
  readonly ready: () => Promise<void>;
  /** SIGTERM to all. @returns their exit codes */
  readonly stop: () => Promise<(number | null)[]>;
  readonly output: () => string;
}

interface Kept {
  readonly what: 'server' | 'worker';
  child: ChildProcess;
}

/** @param options.environment on top of what the product needs */
export const startProduct = async (options: {
  databaseUrl: string;
  redisUrl?: string | null;
  workers?: number;
  environment?: Record<string, string>;
}): Promise<Product> => {
  const port = await freePort();
  const adminToken = randomBytes(24).toString('hex');
  const env = {
    ...process.env,
    HOST: '127.0.0.1',
    PORT: String(port),
    DATABASE_URL: options.databaseUrl,
    REDIS_URL: options.redisUrl ?? '',
    ULLAGE_ADMIN_TOKEN: adminToken,
    ULLAGE_LOG: 'warn',
    ...options.environment,
  };
  let output = '';
  let stopping = false;
  const heard = (data: Buffer) => {
    output = (output + data.toString()).slice(-200_000);
  };
  const run = (what: Kept['what']): ChildProcess => {
    const file = what === 'server' ? 'server/main.ts' : 'workers/main.ts';
    const child = spawn(process.execPath, ['--import', 'tsx', file], {
      cwd: root,
      env,
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    child.stdout.on('data', heard);
    child.stderr.on('data', heard);
    return child;
  };
  const keep = (what: Kept['what']): Kept => {
    const kept: Kept = { what, child: run(what) };
    const again = async () => {
      await sleep(RESTART_AFTER_MS);
      if (stopping) return;
      kept.child = run(what);
      kept.child.once('exit', again);
    };
    kept.child.once('exit', again);
    return kept;
  };
  const processes = [keep('server'), ...Array.from({ length: options.workers ?? 1 }, () => keep('worker'))];
  const url = `http://127.0.0.1:${port}`;

  const ready = async () => {
    // Counted, not timed: a slow machine gets as many tries.
    for (let tries = 0; tries < 1_200; tries++) {
      const answer = await fetch(`${url}/health/live`).catch(() => null);
      if (answer?.ok) return;
      await sleep(100);
    }
    throw new Error(`The server does not answer:\n${output.slice(-SHOWN_OUTPUT)}`);
  };
  const end = async ({ child }: Kept): Promise<number | null> => {
    if (child.exitCode !== null || child.signalCode !== null) return child.exitCode;
    const gone = new Promise((done) => child.once('exit', done));
    child.kill('SIGTERM');
    await gone;
    return child.exitCode;
  };
  await ready();
  return {
    url,
    adminToken,
    kill: (what) => {
      const living = processes.filter((kept) => kept.what === what && kept.child.exitCode === null);
      living[0]?.child.kill('SIGKILL');
    },
    ready,
    stop: async () => {
      stopping = true;
      return Promise.all(processes.map(end));
    },
    output: () => output.slice(-SHOWN_OUTPUT),
  };
};
