import type { ContainerRuntimeClient } from 'testcontainers';

/** The Redis that docker-compose.yml asks for. */
export const REDIS_IMAGE = 'redis:7-bookworm';

export type RedisSource =
  | { readonly kind: 'program'; readonly path: string }
  | { readonly kind: 'container'; readonly engine: ContainerRuntimeClient };

export interface RedisOffers {
  /** The program on PATH, or null. */
  program: () => string | null;
  /** The Docker engine that answers (DOCKER_HOST, else the usual sockets); rejects where none does. */
  engine: () => Promise<ContainerRuntimeClient>;
}

/**
 * Where the tests take Redis from. The program first: it starts in milliseconds and needs no image.
 * @throws {Error} where there is neither: a test that needs Redis must not pass without
 */
export async function redisSource(offers: RedisOffers): Promise<RedisSource> {
  const path = offers.program();
  if (path !== null) return { kind: 'program', path };
  try {
    return { kind: 'container', engine: await offers.engine() };
  } catch (cause) {
    throw new Error('No redis-server on PATH and no Docker engine answers: install the package redis-server', {
      cause,
    });
  }
}
