import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { RedisProcess } from './redis.ts';

/** Redis as a child process, bound to loopback, its data in a folder of its own. */
export function redisProgram(o: { program: string; port: number; args: readonly string[] }): RedisProcess {
  const folder = mkdtempSync(join(tmpdir(), 'ullage-redis-'));
  const args = ['--port', String(o.port), '--bind', '127.0.0.1', '--dir', folder, ...o.args];
  let child: ChildProcess | null = null;
  const hasEnded = () => child === null || child.exitCode !== null || child.signalCode !== null;
  const end = async (signal: NodeJS.Signals): Promise<void> => {
    if (child === null || hasEnded()) return;
    const running = child;
    const gone = new Promise((done) => running.once('exit', done));
    running.kill(signal);
    await gone;
  };
  return {
    host: '127.0.0.1',
    start: async () => {
      child = spawn(o.program, args, { stdio: 'ignore' });
    },
    hasEnded: async () => hasEnded(),
    end,
    remove: async () => {
      await end('SIGKILL');
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
