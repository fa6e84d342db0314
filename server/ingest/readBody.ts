/**
 * Takes a request's bytes, unpacked on the way where they are gzip. The limit holds for the unpacked size and strikes
 * while unpacking: a few hundred kilobytes can unpack to gigabytes.
 */
import type { Readable } from 'node:stream';
import { createGunzip } from 'node:zlib';
import { ProblemError } from '../errors.ts';

export const MOST_UNPACKED_BYTES = 16 * 1024 * 1024;

const tooLarge = () =>
  new ProblemError(
    413,
    `The body is larger than ${MOST_UNPACKED_BYTES / 1024 / 1024} MiB unpacked. Send fewer scans at once.`,
  );

/** @throws 413, 415 for another encoding, 400 for broken gzip */
export const readBody = async (payload: Readable, encoding: string | undefined): Promise<Buffer> => {
  const name = (encoding ?? 'identity').trim().toLowerCase();
  const packed = name === 'gzip' || name === 'x-gzip';
  if (!packed && name !== 'identity' && name !== '')
    throw new ProblemError(415, `Content-Encoding "${name}" is not taken here, only gzip.`);
  return await collect(payload, packed ? payload.pipe(createGunzip()) : payload);
};

const collect = (payload: Readable, source: Readable): Promise<Buffer> =>
  new Promise((done, fail) => {
    const chunks: Buffer[] = [];
    let size = 0;
    // The rest is read and thrown away: a request that is cut off never hears why.
    const refuse = (problem: ProblemError): void => {
      source.removeAllListeners('data');
      if (source !== payload) {
        payload.unpipe();
        source.destroy();
      }
      payload.resume();
      fail(problem);
    };
    source.on('data', (chunk: Buffer) => {
      size += chunk.length;
      if (size > MOST_UNPACKED_BYTES) refuse(tooLarge());
      else chunks.push(chunk);
    });
    source.on('end', () => done(Buffer.concat(chunks)));
    if (source !== payload) source.on('error', () => refuse(new ProblemError(400, 'The body is not valid gzip.')));
    payload.on('error', () => fail(new ProblemError(400, 'The body ended before it was complete.')));
    payload.on('close', () => {
      if (!payload.readableEnded) fail(new ProblemError(400, 'The body ended before it was complete.'));
    });
  });
