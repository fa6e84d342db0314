/** The real server on a port, with the example's fleet in it, and the way in that the example takes. */
import type { AddressInfo } from 'node:net';
import { exampleFleet } from '../../../server/demo/fleet.ts';
import { openServer, type Server } from '../../../server/demo/http.ts';
import { ADMIN, openWorld, type World } from '../world.ts';

export interface Door {
  readonly world: World;
  readonly server: Server;
  readonly adminToken: string;
  readonly close: () => Promise<void>;
}

export async function openDoor(): Promise<Door> {
  const world = await openWorld();
  await world.app.listen({ port: 0, host: '127.0.0.1' });
  const { port } = world.app.server.address() as AddressInfo;
  const { signal } = new AbortController();
  const server = openServer({ url: `http://127.0.0.1:${port}`, signal, log: () => {} });
  await server.ask({ method: 'PUT', path: '/api/v1/fleet', token: ADMIN, body: exampleFleet() });
  return { world, server, adminToken: ADMIN, close: world.close };
}
