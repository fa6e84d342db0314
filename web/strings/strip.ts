import { catalogue } from './catalogue.ts';

/** A drift strip in words, and the tags on strips of which nothing is known. */
export const words = catalogue({
  blind: (age: string) => `Blind, ${age}: nothing is known.`,
  noBaseline: (progress: string) => `No baseline yet: ${progress}.`,
  notWatched: (state: string) => `Not watched: ${state}.`,
  loading: 'Loading.',
  failed: 'The readings could not be loaded.',
  stale: (age: string, known: string) => `Stale, ${age}; last known: ${known}.`,
  live: (known: string) => `${known.charAt(0).toUpperCase()}${known.slice(1)}.`,
  above: (gases: string) => `above its own baseline: ${gases}`,
  below: (gases: string) => `below its own baseline: ${gases}`,
  times: (gas: string, times: string) => `${gas} ${times}`,
  atRest: (n: number) => `${n} at rest`,
  undetected: (gases: string) => `below detection: ${gases}`,
  unknown: (gases: string) => `no baseline yet: ${gases}`,
  unmeasured: (gases: string) => `not measured: ${gases}`,

  noScan: 'no scan yet',
  unwatched: 'not watched',
  learning: (have: number, need: number) => `learning, ${have} of ${need}`,
  staleTag: (age: string) => `stale ${age}`,
  blindTag: (age: string) => `blind ${age}`,
});
