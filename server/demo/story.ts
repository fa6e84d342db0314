/** What a story of the example is: a cause, what a good watch raises, and what people made of it. */
import type { VerifiedCause } from '../../shared/contract/alerts.ts';
import type { EntryKind, Signature } from '../../shared/contract/words.ts';
import type { Person } from './people.ts';
import type { Happenings } from './physics/chamber.ts';

export interface Story {
  readonly title: string;
  readonly chamber: string;
  readonly analyser?: string;
  readonly sinceMs: number;
  /** The signature that a good watch raises; null: nothing needs a person. */
  readonly expected: Signature | null;
  readonly happenings?: Partial<Happenings>;
  /** Factor on everything that the analyser reads. */
  readonly gain?: (atMs: number) => number;
  readonly silentFromMs?: number;
  /** The valve between chamber and analyser is closed, and the state is declared as calibration. */
  readonly valveClosed?: { readonly fromMs: number; readonly toMs: number };
  /** Scans of one pure gas that an engineer of the example marks as such. */
  readonly pureGas?: { readonly gas: string; readonly fromMs: number; readonly toMs: number };
  /** It is over, and an engineer of the example has closed its alert with what was found. */
  readonly closed?: ClosedCase;
  /** What people wrote at moments of the chamber's life. */
  readonly notes?: readonly StoryNote[];
  /** What they hand over to the next shift. */
  readonly handedOver?: readonly StoryEntry[];
}

export interface ClosedCase {
  readonly by: Person;
  readonly cause: string;
  readonly verified: VerifiedCause;
  readonly note: string;
  /** Why the case is kept as an example of what was found; absent: it is not. */
  readonly keptAs?: string;
}

export interface StoryNote {
  readonly by: Person;
  readonly atMs: number;
  readonly text: string;
}

export interface StoryEntry {
  readonly by: Person;
  readonly kind: EntryKind;
  readonly text: string;
  /** Absent: nobody has said until when. */
  readonly dueMs?: number;
}
