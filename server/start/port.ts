import { createServer } from 'node:net';
import { setTimeout as sleep } from 'node:timers/promises';
import { StartError, say } from './say.ts';

/** A server whose supervisor was killed a moment ago needs this long to leave. */
const WAIT_MS = 8_000;

function tryPort(host: string, port: number): Promise<NodeJS.ErrnoException | null> {
  return new Promise((done) => {
    const probe = createServer();
    probe.once('error', done);
    probe.listen({ host, port, exclusive: true }, () => probe.close(() => done(null)));
  });
}

/** @throws {StartError} naming HOST or PORT when nothing can listen there */
export async function requirePort(host: string, port: number): Promise<void> {
  const until = Date.now() + WAIT_MS;
  for (let told = false; ; told = true) {
    const error = await tryPort(host, port);
    if (error === null) return;
    if (error.code === 'EACCES') throw new StartError(`PORT ${port} may only be used by root; choose one above 1023.`);
    if (error.code !== 'EADDRINUSE') throw new StartError(`HOST ${host} cannot be listened on: ${error.message}`);
    if (!told) say(`PORT ${port} on ${host} is in use; waiting a moment in case it is being left …`);
    if (Date.now() > until) {
      throw new StartError(
        `PORT ${port} on ${host} is in use by another program. Stop it, or choose another port:\n  PORT=${port + 1} npm start`,
      );
    }
    await sleep(500);
  }
}
