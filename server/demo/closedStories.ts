/** What was over before the shift began, and what was found: closed cases of the example. */
import type { VerifiedCause } from '../../shared/contract/alerts.ts';
import type { SomeGases } from './physics/gases.ts';
import { driftAt, seedOf } from './random.ts';
import type { Story } from './stories.ts';

const HOUR_MS = 3_600_000;

export interface ClosedCase {
  readonly cause: string;
  readonly verified: VerifiedCause;
  readonly note: string;
}

/** The purge was left open when the hoist had been greased, and nobody noticed before the afternoon. */
export function purgeLeftOpen(anchorMs: number): Story {
  const fromMs = anchorMs - 46 * HOUR_MS;
  const toMs = fromMs + 3.2 * HOUR_MS;
  const OPEN = 9e-4;
  const purge = (atMs: number): SomeGases =>
    atMs < fromMs || atMs >= toMs ? {} : { N2: OPEN * Math.exp(0.02 * driftAt(seedOf('soft clean purge'), atMs, 2)) };
  return {
    title: 'The nitrogen purge was left open for three hours two days ago',
    chamber: 'east-softclean',
    sinceMs: fromMs,
    expected: 'gas-inleak',
    happenings: { loads: [purge] },
    closed: {
      cause: 'purge valve left open',
      verified: 'gas-inleak',
      note: 'Closed it. The hand wheel now has a tag.',
    },
  };
}
