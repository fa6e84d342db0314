import { type ContainerRuntimeClient, GenericContainer, Wait } from 'testcontainers';
import type { RedisProcess } from './redis.ts';
import { REDIS_IMAGE } from './redisSource.ts';

const REDIS_PORT = 6379;
/** A clean stop writes out the append-only file; it never takes this long. */
const LONGEST_STOP_SECONDS = 10;

/**
 * Redis in a container, its data in the container's own volume, which outlives a kill and goes with the container.
 * The port is fixed, because a restarted Redis must be found where it was. testcontainers publishes it on every
 * address of the engine's machine, so `args` should ask for a password.
 */
export async function redisContainer(o: {
  engine: ContainerRuntimeClient;
  port: number;
  args: readonly string[];
}): Promise<RedisProcess> {
  // Clients come over the engine's bridge, not over loopback.
  const command = ['redis-server', '--protected-mode', 'no', ...o.args];
  const started = await new GenericContainer(REDIS_IMAGE)
    .withCommand(command)
    .withExposedPorts({ container: REDIS_PORT, host: o.port })
    .withWaitStrategy(Wait.forLogMessage('Ready to accept connections'))
    .start();
  const container = o.engine.container.getById(started.getId());
  const isRunning = async () => (await container.inspect()).State.Running;
  const host = started.getHost();
  return {
    host: host === 'localhost' ? '127.0.0.1' : host,
    start: async () => {
      if (!(await isRunning())) await container.start();
    },
    hasEnded: async () => !(await isRunning()),
    end: async (signal) => {
      if (!(await isRunning())) return;
      // testcontainers' own stop asks first and kills later; a crash asks nobody.
      if (signal === 'SIGKILL') {
        const gone = container.wait();
        await container.kill({ signal });
        await gone;
      } else await container.stop({ t: LONGEST_STOP_SECONDS });
    },
    remove: async () => void (await container.remove({ force: true, v: true })),
  };
}
