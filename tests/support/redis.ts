import { randomBytes } from 'node:crypto';
import { connect, createServer } from 'node:net';
import { setTimeout as sleep } from 'node:timers/promises';
import { onPath } from './onPath.ts';
import { redisProgram } from './redisProgram.ts';
import { type RedisSource, redisSource } from './redisSource.ts';

export interface RedisOptions {
  appendOnly?: boolean;
  maxmemoryPolicy?: string;
}

export interface RedisServer {
  url: string;
  port: number;
  stop: () => Promise<void>;
  /** SIGKILL: only what was appended to the log survives. */
  kill: () => Promise<void>;
  /** Starts again on the same port and data. */
  restart: () => Promise<void>;
  remove: () => Promise<void>;
}

/** One Redis that can be ended and started again, wherever it runs. */
export interface RedisProcess {
  /** Where its port is found. */
  host: string;
  start: () => Promise<void>;
  hasEnded: () => Promise<boolean>;
  /** Resolves when it has ended; does nothing when it had ended before. */
  end: (signal: 'SIGTERM' | 'SIGKILL') => Promise<void>;
  /** Ends it, with its data. */
  remove: () => Promise<void>;
}

export const freePort = (): Promise<number> =>
  new Promise((done, fail) => {
    const probe = createServer();
    probe.once('error', fail);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() =>
        typeof address === 'object' && address ? done(address.port) : fail(new Error('No free port')),
      );
    });
  });

const answersPing = (at: { host: string; port: number; password: string }): Promise<boolean> =>
  new Promise((done) => {
    let answer = '';
    // QUIT makes the server close, so the whole answer has come when the socket ends.
    const socket = connect(at.port, at.host, () => socket.write(`AUTH ${at.password}\r\nPING\r\nQUIT\r\n`));
    socket.on('data', (data) => {
      answer += data.toString();
    });
    socket.once('error', () => done(false));
    socket.once('close', () => done(answer.includes('+PONG')));
  });

// testcontainers takes a second to load, so only those wait for it who have no program.
const engine = async () => await (await import('testcontainers')).getContainerRuntimeClient();

async function prepared(source: RedisSource, o: { port: number; args: readonly string[] }): Promise<RedisProcess> {
  if (source.kind === 'program') return redisProgram({ program: source.path, ...o });
  const { redisContainer } = await import('./redisContainer.ts');
  return await redisContainer({ engine: source.engine, ...o });
}

/**
 * A Redis of its own, on a free port, behind a password. Defaults are those that the product asks for. It is the
 * program on PATH, or a container where there is only a Docker engine.
 */
export async function redisServer(options: RedisOptions = {}): Promise<RedisServer> {
  const source = await redisSource({ program: () => onPath('redis-server'), engine });
  const [port, password] = [await freePort(), randomBytes(16).toString('hex')];
  const args = ['--save', '', '--requirepass', password];
  args.push('--appendonly', options.appendOnly === false ? 'no' : 'yes', '--appendfsync', 'everysec');
  args.push('--maxmemory-policy', options.maxmemoryPolicy ?? 'noeviction');
  const redis = await prepared(source, { port, args });

  const start = async (): Promise<void> => {
    await redis.start();
    while (!(await answersPing({ host: redis.host, port, password }))) {
      if (await redis.hasEnded()) throw new Error('Redis ended before it answered');
      await sleep(20);
    }
  };
  try {
    await start();
  } catch (error) {
    await redis.remove();
    throw error;
  }
  return {
    url: `redis://:${password}@${redis.host}:${port}`,
    port,
    stop: () => redis.end('SIGTERM'),
    kill: () => redis.end('SIGKILL'),
    restart: start,
    remove: redis.remove,
  };
}
