/** The queue in Redis, where REDIS_URL names one: faster, and shared by many machines. */
import { Queue, Worker } from 'bullmq';
import { Redis } from 'ioredis';
import type { Log } from '../log.ts';
import { QUEUE, type Work, workerOptions } from './policy.ts';
import { within } from './within.ts';

const PREFIX = 'ullage';

interface RedisPlace {
  redisUrl: string;
  log: Log;
}

const backoff = (tries: number): number => Math.min(50 * 2 ** tries, 2_000);

export async function redisQueue({ redisUrl, log }: RedisPlace) {
  await checkRedis(redisUrl, log);
  // With the client's defaults, `add` waits for ever while Redis is away.
  const connection = new Redis(redisUrl, {
    maxRetriesPerRequest: 1,
    enableOfflineQueue: false,
    connectTimeout: 2_000,
    commandTimeout: 5_000,
    retryStrategy: backoff,
  });
  connection.on('error', () => {
    // Reported by the queue, which listens too.
  });
  const queue = new Queue(QUEUE, { connection, prefix: PREFIX });
  return { queue, end: async () => connection.disconnect() };
}

export async function redisWorker(work: Work, concurrency: number, { redisUrl, log }: RedisPlace) {
  await checkRedis(redisUrl, log);
  // A worker, unlike a request, waits for Redis to come back.
  const connection = new Redis(redisUrl, { maxRetriesPerRequest: null, retryStrategy: backoff });
  connection.on('error', () => {
    // Reported by the worker, which listens too.
  });
  const worker = new Worker(QUEUE, work, { ...workerOptions(concurrency), connection, prefix: PREFIX });
  return { worker, end: async () => connection.disconnect() };
}

/**
 * Redis as Ullage needs it: it must refuse new keys when full, not throw old ones away; and it should keep a log, or a
 * crash loses the nudges (the sweep makes up for that, a little later).
 * @throws {Error} when it may evict keys. A Redis that does not answer is only warned about: it may come back.
 */
export async function checkRedis(redisUrl: string, log: Log): Promise<void> {
  const probe = new Redis(redisUrl, { lazyConnect: true, connectTimeout: 2_000, retryStrategy: () => null });
  probe.on('error', () => {
    // `connect` rejects with it.
  });
  let info: string;
  try {
    await probe.connect();
    info = await within(2_000, probe.info());
  } catch (error) {
    log.warn({ error }, 'Redis (REDIS_URL) does not answer; nudges will flow when it does');
    return;
  } finally {
    probe.disconnect();
  }
  const value = (name: string): string | undefined => new RegExp(`^${name}:(.*?)\\r?$`, 'm').exec(info)?.[1];
  const policy = value('maxmemory_policy');
  if (policy !== undefined && policy !== 'noeviction') {
    throw new Error(
      `Redis (REDIS_URL) has maxmemory-policy ${policy} and may throw nudges away: set "maxmemory-policy noeviction"`,
    );
  }
  if (value('aof_enabled') === '0') {
    log.warn({}, 'Redis (REDIS_URL) keeps no append-only file: a crash loses its nudges. Set "appendonly yes"');
  }
}
