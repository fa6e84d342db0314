/**
 * Odds → one of five words. The odds are tempered evidence (see `TEMPER`); the borders are checked against simulated
 * faults: of alerts called "nearly certain" at least 95 in 100 must be right. On 15 simulated chambers that nothing was
 * tuned on, names right: nearly certain 652 of 660, likely 121 of 128, more likely than not 49 of 53, open 22 of 26,
 * cannot tell 30 of 35; Brier score 0.041 (`npm run bench -- watch`, before pumps were told from hydrogen more humbly).
 */
import type { Finding } from './types.ts';

export type Sureness = Finding['sureness'];

const NEARLY_CERTAIN = 0.95;
const LIKELY = 0.8;
const MORE_LIKELY = 0.6;
/** Below this no cause has a third of the odds: naming one would be a guess. */
const OPEN = 0.35;

export function surenessOf(odds: number): Sureness {
  if (odds >= NEARLY_CERTAIN) return 'nearly certain';
  if (odds >= LIKELY) return 'likely';
  if (odds >= MORE_LIKELY) return 'more likely than not';
  return odds >= OPEN ? 'open' : 'cannot tell';
}
