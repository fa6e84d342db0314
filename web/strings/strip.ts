import { catalogue } from './catalogue.ts';

const inRow = (gases: readonly string[]): string => gases.join(', ');
const clauses = (known: readonly string[]): string => known.join('; ');

/** A drift strip in words, and the tags on strips of which nothing is known. */
export const words = catalogue({
  blind: (age: string) => `Blind, ${age}: nothing is known.`,
  noBaseline: (progress: string) => `No baseline yet: ${progress}.`,
  notWatched: (state: string) => `Not watched: ${state}.`,
  loading: 'Loading.',
  failed: 'The readings could not be loaded.',
  stale: (age: string, known: readonly string[]) => `Stale, ${age}; last known: ${clauses(known)}.`,
  live: (known: readonly string[]) => `${clauses(known).charAt(0).toUpperCase()}${clauses(known).slice(1)}.`,
  above: (gases: readonly string[]) => `above its own baseline: ${inRow(gases)}`,
  below: (gases: readonly string[]) => `below its own baseline: ${inRow(gases)}`,
  times: (gas: string, factor: string) => `${gas} ${factor} times`,
  atRest: (n: number) => `${n} at rest`,
  undetected: (gases: readonly string[]) => `below detection: ${inRow(gases)}`,
  unknown: (gases: readonly string[]) => `no baseline yet: ${inRow(gases)}`,
  unmeasured: (gases: readonly string[]) => `not measured: ${inRow(gases)}`,

  noScan: 'no scan yet',
  unwatched: 'not watched',
  learning: (have: number, need: number) => `learning, ${have} of ${need}`,
  staleTag: (age: string) => `stale ${age}`,
  blindTag: (age: string) => `blind ${age}`,
});
