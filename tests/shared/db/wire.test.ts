import { createServer, type Server, type Socket } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { parseDatabaseUrl } from '../../../shared/db/address.ts';
import { greetingAt, openWire } from '../../../shared/db/wire.ts';

const servers: Server[] = [];
afterEach(() => {
  for (const server of servers.splice(0)) server.close();
});

/** A server that hands its side of the first connection out. */
async function serve(): Promise<{ port: number; accepted: Promise<Socket> }> {
  const server = createServer();
  servers.push(server);
  const accepted = new Promise<Socket>((done) => server.once('connection', done));
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  return { port: (server.address() as { port: number }).port, accepted };
}

/** A greeting as the protocol has it: length, version 3.0, parameters. */
function greeting(parameters = 'user\0u\0\0'): Buffer {
  const bytes = Buffer.alloc(8 + parameters.length);
  bytes.writeUInt32BE(bytes.length, 0);
  bytes.writeUInt32BE(0x00030000, 4);
  bytes.write(parameters, 8);
  return bytes;
}

const closed = (socket: Socket): Promise<Error | null> =>
  new Promise((done) => {
    let reason: Error | null = null;
    socket.once('error', (error) => {
      reason = error;
    });
    socket.once('close', () => done(reason));
  });

const open = (port: number, silenceMs: number, query = '') =>
  openWire(parseDatabaseUrl(`postgres://u@127.0.0.1:${port}/d${query}`), silenceMs);

describe('the wire', () => {
  it('finds the greeting behind bytes of a statement that was never sent', () => {
    expect(greetingAt(greeting())).toBe(0);
    expect(greetingAt(Buffer.concat([Buffer.from('Q\0\0\0\x0dselect 1\0'), greeting()]))).toBe(14);
  });

  it('sends only the greeting first, and later bytes as they are', async () => {
    const { port, accepted } = await serve();
    const socket = await open(port, 60_000);
    socket.write(Buffer.concat([Buffer.from('left over'), greeting()]));
    socket.write(Buffer.from('then this'));
    const peer = await accepted;
    const expected = Buffer.concat([greeting(), Buffer.from('then this')]);
    let heard = Buffer.alloc(0);
    await new Promise<void>((done) =>
      peer.on('data', (chunk) => {
        heard = Buffer.concat([heard, chunk]);
        if (heard.length >= expected.length) done();
      }),
    );
    expect(heard).toEqual(expected);
    socket.destroy();
  });

  it('closes when an answer is owed and does not come', async () => {
    const { port } = await serve();
    const socket = await open(port, 50);
    const end = closed(socket);
    socket.write(greeting());
    expect(await end).toMatchObject({ code: 'SERVER_SILENT' });
  });

  it('closes when an answer stops half-way', async () => {
    const { port, accepted } = await serve();
    const socket = await open(port, 50);
    const end = closed(socket);
    socket.write(greeting());
    (await accepted).write(Buffer.from('D\0\0\0\x04'));
    expect(await end).toMatchObject({ code: 'SERVER_SILENT' });
  });

  it('stays open for as long as nothing is owed', async () => {
    const { port, accepted } = await serve();
    const socket = await open(port, 50);
    let gone = false;
    void closed(socket).then(() => {
      gone = true;
    });
    socket.write(greeting());
    (await accepted).write(Buffer.from('Z\0\0\0\x05I'));
    await new Promise((done) => setTimeout(done, 400));
    expect(gone).toBe(false);
    socket.destroy();
  });

  it('reports a server that is not there, or that offers no TLS, through the socket', async () => {
    const { port, accepted } = await serve();
    void accepted.then((peer) => peer.once('data', () => peer.write('N')));
    const plain = await open(port, 1_000, '?sslmode=require');
    expect(await closed(plain)).toMatchObject({ message: 'The database does not offer TLS' });
    const server = servers.pop();
    await new Promise((done) => server?.close(done));
    expect(await closed(await open(port, 1_000))).toMatchObject({ code: 'ECONNREFUSED' });
    expect(await closed(await open(port, 1_000, '?sslmode=verify-full'))).toMatchObject({ code: 'ECONNREFUSED' });
  });
});
