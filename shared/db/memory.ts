/** How memories of watch and analysis lie in `watch_memory`: JSON, packed, because they are rewritten with every batch. */
import { deflateRawSync, inflateRawSync } from 'node:zlib';
import type { InstrumentMemory } from '../analysis/types.ts';
import type { WatchMemory } from '../watch/types.ts';

/** The fastest level: the memory is numbers of like size, and a higher one gains a tenth for twice the time. */
const LEVEL = 1;

export const packMemory = (memory: WatchMemory | InstrumentMemory): Buffer =>
  deflateRawSync(JSON.stringify(memory), { level: LEVEL });

const unpack = (bytes: Buffer) => JSON.parse(inflateRawSync(bytes).toString('utf8'));

export const unpackMemory = (bytes: Buffer): WatchMemory => unpack(bytes);
export const unpackInstrument = (bytes: Buffer): InstrumentMemory => unpack(bytes);
