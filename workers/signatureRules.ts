/** What the rationalisation in force asks of the watch: only what differs from the judgement that is built in. */
import { BUILT_IN_RATIONALISATION } from '../shared/catalogue/rationalisation.ts';
import type { RationalisationRecord } from '../shared/contract/rationalisation.ts';
import type { Signature } from '../shared/contract/words.ts';
import type { SignatureRule } from '../shared/watch/types.ts';

/** The part of a record that the watch goes by. */
export type JudgedBy = Pick<RationalisationRecord, 'priority' | 'armedStates' | 'leastDecades' | 'onDelayScans'>;

const sameStates = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === b.length && a.every((state) => b.includes(state));

/** Null: judged as built. */
export const ruleFrom = (signature: Signature, record: JudgedBy): SignatureRule | null => {
  const built = BUILT_IN_RATIONALISATION[signature].record;
  const rule: SignatureRule = {
    signature,
    ...(record.priority === built.priority ? {} : { priority: record.priority }),
    ...(sameStates(record.armedStates, built.armedStates) ? {} : { armedStates: [...record.armedStates] }),
    ...(record.leastDecades === null ? {} : { leastDecades: record.leastDecades }),
    ...(record.onDelayScans === null ? {} : { onDelayScans: record.onDelayScans }),
  };
  return Object.keys(rule).length > 1 ? rule : null;
};

export const rulesFrom = (
  records: readonly { readonly signature: Signature; readonly record: JudgedBy }[],
): SignatureRule[] => records.flatMap(({ signature, record }) => ruleFrom(signature, record) ?? []);
