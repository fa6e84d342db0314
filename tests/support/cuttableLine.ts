/** A TCP line between a page and a server that can be cut in the ways in which lines are cut. */
import { type AddressInfo, connect, createServer, type Socket } from 'node:net';

/** `drop`: closed at once; `freeze`: nothing passes and nothing says so, then it is closed; `half`: only what comes from the server is lost. */
export const CUTS = ['drop', 'freeze', 'half'] as const;
export type Cut = (typeof CUTS)[number];

export interface CuttableLine {
  readonly port: number;
  readonly cut: (how: Cut) => void;
  /** Connections are taken again; until then they are closed as soon as they are made. */
  readonly mend: () => void;
  readonly close: () => Promise<void>;
}

export const openLine = async (toPort: number): Promise<CuttableLine> => {
  const pairs = new Set<readonly [Socket, Socket]>();
  let down = false;
  const end = (pair: readonly [Socket, Socket]) => {
    pairs.delete(pair);
    for (const socket of pair) socket.destroy();
  };
  const line = createServer((near) => {
    if (down) {
      near.destroy();
      return;
    }
    const far = connect(toPort, '127.0.0.1');
    const pair = [near, far] as const;
    pairs.add(pair);
    near.pipe(far);
    far.pipe(near);
    for (const socket of pair) {
      socket.on('error', () => end(pair));
      socket.on('close', () => end(pair));
    }
  });
  await new Promise<void>((listening) => line.listen(0, '127.0.0.1', listening));
  const endAll = () => {
    for (const pair of [...pairs]) end(pair);
  };
  return {
    port: (line.address() as AddressInfo).port,
    cut: (how) => {
      down = true;
      if (how === 'drop') endAll();
      for (const [near, far] of pairs) {
        far.unpipe(near);
        if (how === 'freeze') near.unpipe(far);
      }
    },
    mend: () => {
      endAll();
      down = false;
    },
    close: async () => {
      endAll();
      await new Promise((closed) => line.close(closed));
    },
  };
};
