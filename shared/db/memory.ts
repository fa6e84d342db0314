/** How the watch's memory lies in `watch_memory.memory`: JSON, packed, because it is rewritten with every batch. */
import { deflateRawSync, inflateRawSync } from 'node:zlib';
import type { WatchMemory } from '../watch/types.ts';

/** The fastest level: the memory is numbers of like size, and a higher one gains a tenth for twice the time. */
const LEVEL = 1;

export const packMemory = (memory: WatchMemory): Buffer => deflateRawSync(JSON.stringify(memory), { level: LEVEL });

export const unpackMemory = (bytes: Buffer): WatchMemory => JSON.parse(inflateRawSync(bytes).toString('utf8'));
