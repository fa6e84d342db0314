import type { Priority, Signature } from '../../contract/words.ts';

export interface SignatureEntry {
  readonly title: string;
  readonly meaning: string;
  /** In order. The first begins with "First". */
  readonly firstSteps: readonly [string, ...string[]];
  readonly cautions: readonly string[];
  /** What would settle it. */
  readonly settles: string;
  readonly priority: { readonly usual: Priority; readonly basis: string };
  /** Names of scenarios of the simulated world; null: this release does not judge it. */
  readonly example: string | null;
  readonly nearMiss: string | null;
}

export type Entries<Id extends Signature> = Readonly<Record<Id, SignatureEntry>>;
