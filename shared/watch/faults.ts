/** Alerts about the data themselves: they need no naming. */
import { SIGNATURES_BY_ID } from '../catalogue/signatures.ts';
import type { Alternative, Evidence } from '../contract/alerts.ts';
import type { Priority, Signature } from '../contract/words.ts';
import type { Memory } from './memory.ts';
import { type Condition, end, raise } from './standing.ts';
import type { Sureness } from './sureness.ts';
import type { WatchEvent } from './types.ts';

export interface DataFault {
  readonly signature: Signature;
  /** Where one signature has several reasons, each stands for itself; the signature when left out. */
  readonly cause?: string;
  readonly on: boolean;
  readonly off: boolean;
  readonly summary: string;
  readonly sureness?: Sureness;
  readonly gases?: readonly string[];
  /** What it does to the spectrum, so that it is not called a second time. */
  readonly direction?: Float64Array | null;
  readonly amplitude?: number;
  readonly evidence: readonly Evidence[];
  readonly alternatives?: readonly Alternative[];
  /** The usual one of the signature when left out. */
  readonly priority?: Priority;
}

/** Nothing to raise and nothing that could end: then what would be said of it need not be worded. */
export const isAtRest = ({ standing }: Memory, on: boolean): boolean => !on && standing.length === 0;

export function followFault(memory: Memory, atMs: number, fault: DataFault): WatchEvent[] {
  const {
    signature,
    cause = signature,
    on,
    off,
    summary,
    evidence,
    sureness = 'nearly certain',
    gases = [],
    direction = null,
    amplitude = 1,
    alternatives = [],
    priority,
  } = fault;
  if (isAtRest(memory, on)) return [];
  const own = (standing: Memory['standing'][number]) => standing.cause === cause;
  if (memory.standing.some(own)) return off ? end(memory, atMs, own) : [];
  if (!on) return [];
  const entry = SIGNATURES_BY_ID[signature];
  const condition: Condition = {
    signature,
    cause,
    gases,
    priority: priority ?? entry.priority.usual,
    finding: { summary, sureness, firstStep: entry.firstSteps[0], settle: entry.settles, evidence, alternatives },
    lane: 'scan',
    direction,
    observed: null,
    amplitude,
    leastAmplitude: 1,
  };
  return [raise(memory, atMs, condition)];
}
