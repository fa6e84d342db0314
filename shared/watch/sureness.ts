/**
 * Odds → one of five words. The odds are tempered evidence (see `TEMPER`); the borders are checked against simulated
 * faults: of alerts called "nearly certain" at least 95 in 100 must be right.
 */
import type { Finding } from './types.ts';

export type Sureness = Finding['sureness'];

const NEARLY_CERTAIN = 0.95;
const LIKELY = 0.8;
const MORE_LIKELY = 0.6;

export function surenessOf(odds: number): Sureness {
  if (odds >= NEARLY_CERTAIN) return 'nearly certain';
  if (odds >= LIKELY) return 'likely';
  if (odds >= MORE_LIKELY) return 'more likely than not';
  return 'open';
}
