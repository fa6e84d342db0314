/**
 * The socket under a database connection, made here and not by the driver, for three reasons:
 *
 * - The driver waits for ever on a server that has frozen or a network that swallows packets: TCP keep-alive is
 *   answered by the kernel, and statement_timeout needs a living server. This socket notices that an answer is owed
 *   and does not come, and closes; the driver then frees the connection.
 * - When a connection closes while the driver (postgres 3.4.9) holds unsent bytes, it keeps them, and a timer that will
 *   never fire, and sends them before the greeting of its next connection, which the server cannot understand. Here
 *   they are dropped: the statement was already reported as failed.
 * - The driver loses a connection for good when its socket factory fails. This one never does; the socket reports.
 */
import { connect, Socket } from 'node:net';
import { connect as connectTls } from 'node:tls';
import { type DatabaseAddress, isSocketFolder, socketPath } from './address.ts';

/** ReadyForQuery: type byte, length 5, status. The server owes nothing after it. */
const READY_FOR_QUERY = Buffer.from([0x5a, 0, 0, 0, 5]);
/** PortalSuspended: a cursor waits for its reader, not for the server. */
const PORTAL_SUSPENDED = Buffer.from([0x73, 0, 0, 0, 4]);
/** Asks the server for TLS: length 8 and a code that is no protocol version. */
const TLS_REQUEST = Buffer.from([0, 0, 0, 8, 0x04, 0xd2, 0x16, 0x2f]);
/** Version 3.0 of the protocol, as the greeting carries it after its length. */
const PROTOCOL_VERSION = 196_608;

/**
 * A start-up option of blanks that makes the greeting longer than the 1024 bytes from which the driver sends at once,
 * whatever became of its timer.
 */
export const GREETING_PADDING = ' '.repeat(1024);

const endsTheAnswer = (chunk: Buffer): boolean =>
  chunk.subarray(-6, -1).equals(READY_FOR_QUERY) || chunk.subarray(-5).equals(PORTAL_SUSPENDED);

/** Opens a socket that destroys itself when the server stays silent for `silenceMs` while it owes an answer. */
export async function openWire(address: DatabaseAddress, silenceMs: number): Promise<Socket> {
  const plain = isSocketFolder(address.host)
    ? connect({ path: socketPath(address.host, address.port) })
    : connect({ host: address.host, port: address.port, noDelay: true });
  if (address.tls === 'disable') return ready(plain, silenceMs);
  try {
    return ready(await upgrade(plain, address, silenceMs), silenceMs);
  } catch (error) {
    plain.destroy();
    const failed = new Socket();
    // The driver greets at once; its greeting must not replace the reason.
    failed.write = () => true;
    // After the driver has had time to listen.
    setImmediate(() => failed.destroy(error as Error));
    return failed;
  }
}

function ready<T extends Socket>(socket: T, silenceMs: number): T {
  closeWhenSilent(socket, silenceMs);
  // Over the former: it takes itself off after the first bytes.
  startWithTheGreeting(socket);
  return socket;
}

const silent = (ms: number): Error =>
  Object.assign(new Error(`The database has not answered for ${ms} ms`), { code: 'SERVER_SILENT' });

function upgrade(plain: Socket, address: DatabaseAddress, silenceMs: number): Promise<Socket> {
  return new Promise((done, fail) => {
    const timer = setTimeout(() => fail(silent(silenceMs)), silenceMs);
    const failed = (error: Error): void => {
      clearTimeout(timer);
      fail(error);
    };
    plain.once('error', failed);
    plain.write(TLS_REQUEST);
    plain.once('data', (answer) => {
      // Exactly one byte: more would be something that a stranger put before the encryption.
      if (answer.length !== 1 || answer[0] !== 0x53) return failed(new Error('The database does not offer TLS'));
      const secure = connectTls({
        socket: plain,
        servername: address.host,
        rejectUnauthorized: address.tls === 'verify-full',
      });
      secure.once('error', failed);
      secure.once('secureConnect', () => {
        clearTimeout(timer);
        plain.off('error', failed);
        secure.off('error', failed);
        done(secure);
      });
    });
  });
}

/** Drops from the first bytes what stands before the greeting. */
function startWithTheGreeting(socket: Socket): void {
  const write = socket.write;
  socket.write = ((bytes: Buffer, ...rest: []): boolean => {
    socket.write = write;
    return socket.write(bytes.subarray(greetingAt(bytes)), ...rest);
  }) as typeof write;
}

/** Where the greeting begins that fills these bytes to their end. */
export function greetingAt(bytes: Buffer): number {
  for (let at = 0; at + 8 <= bytes.length; at += 1) {
    if (bytes.readUInt32BE(at) === bytes.length - at && bytes.readUInt32BE(at + 4) === PROTOCOL_VERSION) return at;
  }
  return 0;
}

function closeWhenSilent(socket: Socket, silenceMs: number): void {
  let timer: NodeJS.Timeout | null = null;
  const owed = (): void => {
    if (timer === null) timer = setTimeout(() => socket.destroy(silent(silenceMs)), silenceMs).unref();
    else timer.refresh();
  };
  const settled = (): void => {
    if (timer !== null) clearTimeout(timer);
    timer = null;
  };
  const write = socket.write;
  socket.write = ((...args: Parameters<typeof write>): boolean => {
    owed();
    return write.apply(socket, args);
  }) as typeof write;
  socket.on('data', (chunk: Buffer) => {
    if (endsTheAnswer(chunk)) settled();
    else timer?.refresh();
  });
  socket.on('close', settled);
}
