import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { ContainerRuntimeClient } from 'testcontainers';
import { expect, test } from 'vitest';
import { REDIS_IMAGE, redisSource } from './redisSource.ts';

const engine = { info: {} } as ContainerRuntimeClient;
const noEngine = () => Promise.reject(new Error('no socket'));

test('a program on PATH comes first, and no engine is asked', async () => {
  let asked = 0;
  const source = await redisSource({
    program: () => '/opt/redis-server',
    engine: () => {
      asked += 1;
      return Promise.resolve(engine);
    },
  });
  expect(source).toEqual({ kind: 'program', path: '/opt/redis-server' });
  expect(asked).toBe(0);
});

test('without the program an engine that answers will do', async () => {
  expect(await redisSource({ program: () => null, engine: () => Promise.resolve(engine) })).toEqual({
    kind: 'container',
    engine,
  });
});

test('with neither the error names what to install, and why the engine did not do', async () => {
  const refused = redisSource({ program: () => null, engine: noEngine });
  await expect(refused).rejects.toThrow(/redis-server.*Docker.*install the package redis-server/);
  await expect(refused).rejects.toMatchObject({ cause: new Error('no socket') });
});

test('the container is the Redis that the compose file asks for', () => {
  const compose = readFileSync(join(import.meta.dirname, '../../docker-compose.yml'), 'utf8');
  expect(/image: (redis:\S+)/.exec(compose)?.[1]).toBe(REDIS_IMAGE);
});
