import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  checkRedis,
  migrateQueue,
  type NudgeWorker,
  openNudges,
  openNudgeWorker,
  type QueuePlace,
} from '../../shared/queues.ts';
import { type FreshDatabase, freshDatabase, ownCluster, quiet, redisServer } from '../support/services.ts';

/** Waits for what must come; the runner's own limit ends a wait in vain. */
async function until(true_: () => boolean): Promise<void> {
  while (!true_()) await sleep(10);
}

interface Backend {
  name: string;
  open: () => Promise<{ place: QueuePlace; remove: () => Promise<void> }>;
}

const backends: Backend[] = [
  {
    name: 'PostgreSQL',
    open: async () => {
      const fresh: FreshDatabase = await freshDatabase();
      // Several processes start at once, and each makes sure of the tables.
      await Promise.all([1, 2, 3].map(() => migrateQueue(fresh.url)));
      return { place: { databaseUrl: fresh.url, redisUrl: null, log: quiet }, remove: fresh.drop };
    },
  },
  {
    name: 'Redis',
    open: async () => {
      const redis = await redisServer();
      return {
        place: { databaseUrl: 'postgres://unused@127.0.0.1/unused', redisUrl: redis.url, log: quiet },
        remove: redis.remove,
      };
    },
  },
];

describe.each(backends)('the queue on $name', ({ open }) => {
  let place: QueuePlace;
  let remove: () => Promise<void>;
  beforeAll(async () => {
    ({ place, remove } = await open());
  });
  afterAll(async () => remove());

  it('runs one job for a chamber that was nudged many times before anybody worked', async () => {
    const nudges = await openNudges(place);
    for (let i = 0; i < 5; i++) await nudges.nudge(['n-prep-1', '17', 'with:colon']);
    expect(await nudges.check()).toBe(3);
    const handled: string[] = [];
    const worker = await openNudgeWorker({
      ...place,
      concurrency: 2,
      handle: async (chamber) => {
        handled.push(chamber);
      },
    });
    await until(() => handled.length >= 3);
    await worker.close();
    expect(handled.toSorted()).toEqual(['17', 'n-prep-1', 'with:colon']);
    expect(await nudges.check()).toBe(0);
    await nudges.close();
  });

  it('runs again for nudges that came while the job ran, and never twice at once', async () => {
    const nudges = await openNudges(place);
    let running = 0;
    let most = 0;
    let runs = 0;
    let release = (): void => {};
    const gate = new Promise<void>((open) => {
      release = open;
    });
    const worker = await openNudgeWorker({
      ...place,
      concurrency: 4,
      handle: async () => {
        running += 1;
        most = Math.max(most, running);
        runs += 1;
        await gate;
        running -= 1;
      },
    });
    await nudges.nudge(['busy']);
    await until(() => running === 1);
    for (let i = 0; i < 3; i++) await nudges.nudge(['busy']);
    release();
    await until(() => runs === 2 && running === 0);
    await worker.close();
    expect(most).toBe(1);
    expect(await nudges.check()).toBe(0);
    await nudges.close();
  });

  it('goes on after a failed job, and takes later nudges for the same chamber', async () => {
    const nudges = await openNudges(place);
    let runs = 0;
    const worker = await openNudgeWorker({
      ...place,
      concurrency: 1,
      handle: async () => {
        runs += 1;
        if (runs === 1) throw new Error('passing trouble');
      },
    });
    await nudges.nudge(['stumbling']);
    await until(() => runs === 1);
    while (runs < 2) {
      await nudges.nudge(['stumbling']);
      await sleep(20);
    }
    await worker.close();
    await nudges.close();
    expect(runs).toBeGreaterThanOrEqual(2);
  });

  it('lets the sweep nudge although an earlier nudge is still remembered', async () => {
    const nudges = await openNudges(place);
    await nudges.nudge(['remembered']);
    await nudges.nudge(['remembered'], 'again');
    await nudges.nudge(['remembered'], 'again');
    expect(await nudges.check()).toBe(2);
    const handled: string[] = [];
    const worker: NudgeWorker = await openNudgeWorker({
      ...place,
      concurrency: 1,
      handle: async (chamber) => {
        handled.push(chamber);
      },
    });
    await until(() => handled.length === 2);
    await worker.close();
    await nudges.close();
  });

  it('takes nudges for two thousand chambers at once', async () => {
    const nudges = await openNudges(place);
    const chambers = Array.from({ length: 2000 }, (_, i) => `many-${i}`);
    await nudges.nudge(chambers);
    await nudges.nudge(chambers, 'again');
    const seen = new Set<string>();
    const worker = await openNudgeWorker({
      ...place,
      concurrency: 8,
      handle: async (chamber) => {
        seen.add(chamber);
      },
    });
    await until(() => seen.size === chambers.length);
    await worker.close();
    await nudges.close();
  });
});

describe('a queue that is away', () => {
  it('costs a request a moment and no error, and nudges flow again when Redis is back', async () => {
    const redis = await redisServer();
    const warnings: string[] = [];
    const log = { ...quiet, warn: (_: object, message: string) => void warnings.push(message) };
    const place = { databaseUrl: 'postgres://unused@127.0.0.1/unused', redisUrl: redis.url, log };
    const nudges = await openNudges(place);
    const handled: string[] = [];
    const worker = await openNudgeWorker({
      ...place,
      concurrency: 1,
      handle: async (chamber) => {
        handled.push(chamber);
      },
    });
    await nudges.nudge(['before']);
    await until(() => handled.includes('before'));
    await redis.kill();
    await nudges.nudge(['lost']);
    await expect(nudges.check()).rejects.toThrow();
    expect(warnings.length).toBeGreaterThan(0);
    await redis.restart();
    while (!handled.includes('after')) {
      await nudges.nudge(['after']);
      await sleep(50);
    }
    await worker.close();
    await nudges.close();
    await redis.remove();
  });

  it('is PostgreSQL itself: work goes on after it was stopped and started', async () => {
    const own = await ownCluster({ fsync: 'off' });
    await migrateQueue(own.url);
    const place = { databaseUrl: own.url, redisUrl: null, log: quiet };
    const nudges = await openNudges(place);
    const handled: string[] = [];
    const worker = await openNudgeWorker({
      ...place,
      concurrency: 1,
      handle: async (chamber) => {
        handled.push(chamber);
      },
    });
    await nudges.nudge(['before']);
    await until(() => handled.includes('before'));
    await own.cluster.stop();
    await nudges.nudge(['lost']);
    await sleep(1_000);
    await own.restart();
    while (!handled.includes('after')) {
      await nudges.nudge(['after'], 'again');
      await sleep(100);
    }
    await worker.close();
    await nudges.close();
    await own.remove();
  });

  it('does not keep anybody from starting', async () => {
    const redis = await redisServer();
    await redis.stop();
    const nudges = await openNudges({ databaseUrl: 'postgres://u@127.0.0.1/x', redisUrl: redis.url, log: quiet });
    await nudges.nudge(['early']);
    await redis.restart();
    await expect.poll(() => nudges.check().catch(() => null), { timeout: 60_000 }).toBeTypeOf('number');
    await nudges.close();
    await redis.remove();
  });
});

describe('a Redis that does not suit', () => {
  it('is refused when it may throw keys away', async () => {
    const redis = await redisServer({ maxmemoryPolicy: 'allkeys-lru' });
    await expect(checkRedis(redis.url, quiet)).rejects.toThrow(/REDIS_URL.*allkeys-lru.*noeviction/s);
    await redis.remove();
  });

  it('is warned about when it keeps no log', async () => {
    const redis = await redisServer({ appendOnly: false });
    const warnings: string[] = [];
    await checkRedis(redis.url, { ...quiet, warn: (_, message) => void warnings.push(message) });
    expect(warnings.join()).toMatch(/append-only/);
    await redis.remove();
  });
});
