/** Alerts about the data themselves: they need no naming. */
import { SIGNATURES_BY_ID } from '../catalogue/signatures.ts';
import type { Evidence } from '../contract/alerts.ts';
import type { Signature } from '../contract/words.ts';
import type { Memory } from './memory.ts';
import { type Condition, end, raise, stands } from './standing.ts';
import type { Sureness } from './sureness.ts';
import type { WatchEvent } from './types.ts';

export interface DataFault {
  readonly signature: Signature;
  readonly on: boolean;
  readonly off: boolean;
  readonly summary: string;
  readonly sureness?: Sureness;
  readonly gases?: readonly string[];
  /** What it does to the spectrum, so that it is not called a second time. */
  readonly direction?: Float64Array | null;
  readonly amplitude?: number;
  readonly evidence: readonly Evidence[];
}

export function followFault(memory: Memory, atMs: number, fault: DataFault): WatchEvent[] {
  const {
    signature,
    on,
    off,
    summary,
    evidence,
    sureness = 'nearly certain',
    gases = [],
    direction = null,
    amplitude = 1,
  } = fault;
  if (stands(memory, signature)) return off ? end(memory, atMs, (standing) => standing.signature === signature) : [];
  if (!on) return [];
  const entry = SIGNATURES_BY_ID[signature];
  const condition: Condition = {
    signature,
    cause: signature,
    gases,
    priority: entry.priority.usual,
    finding: { summary, sureness, firstStep: entry.firstSteps[0], settle: entry.settles, evidence, alternatives: [] },
    lane: 'scan',
    direction,
    observed: null,
    amplitude,
    leastAmplitude: 1,
  };
  return [raise(memory, atMs, condition)];
}
