/**
 * How the alerts of a chamber are handled, apart from what the watch says: the rationalisation in force for its kind, what
 * is out of service, and the operating state that it was last said to be in.
 */
import { BUILT_IN_RATIONALISATION } from '../shared/catalogue/rationalisation.ts';
import type { Signature } from '../shared/contract/words.ts';
import type { Transaction } from '../shared/db/connect.ts';
import { type RecordsInForce, readInForceFor } from '../shared/db/rationalisations.ts';
import { readBreaksOf } from '../shared/db/serviceBreaks.ts';

export interface Practice {
  readonly records: RecordsInForce;
  readonly breaks: ReadonlyMap<Signature, { readonly untilMs: number; readonly reason: string; readonly by: string }>;
  /** Null: no analyser has ever reported one. */
  readonly operatingState: { readonly state: string; readonly sinceMs: number } | null;
}

/** Of a chamber for which nobody has set anything. */
export const AS_BUILT: Practice = { records: BUILT_IN_RATIONALISATION, breaks: new Map(), operatingState: null };

/** Two analysers that change at the same instant: the later name, as their scans are worked through. */
export const readPractice = async (tx: Transaction, chamber: string): Promise<Practice> => {
  const [chambers, states] = await Promise.all([
    tx<{ kind: string | null }[]>`select kind from chambers where id = ${chamber}`,
    tx<{ state: string; at: Date }[]>`
      select state, at from chamber_states where chamber = ${chamber} order by at desc, analyser desc limit 1`,
  ]);
  const [state] = states;
  const [records, breaks] = await Promise.all([
    readInForceFor(tx, chambers[0]?.kind ?? null),
    readBreaksOf(tx, chamber),
  ]);
  return {
    records,
    breaks: new Map(
      breaks.map(({ signature, until, reason, setBy }) => [signature, { untilMs: until.getTime(), reason, by: setBy }]),
    ),
    operatingState: state ? { state: state.state, sinceMs: state.at.getTime() } : null,
  };
};
