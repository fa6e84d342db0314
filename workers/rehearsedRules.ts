/** What a changed rationalisation asks of the watch of a kind of chamber, and whether that moves a threshold at all. */
import type { Sql } from 'postgres';
import type { RehearsedChange } from '../shared/contract/rehearsal.ts';
import { readInForceFor } from '../shared/db/rationalisations.ts';
import type { SignatureRule } from '../shared/watch/types.ts';
import { isClocked } from './rehearseAlerts.ts';
import { ruleFrom, rulesFrom } from './signatureRules.ts';

export interface ChangedRules {
  readonly rules: readonly SignatureRule[];
  /** The watch judges differently by it: the past is to be judged again. */
  readonly replay: boolean;
}

export const changedRules = async (
  sql: Sql,
  kind: string | null,
  { signature, record }: Extract<RehearsedChange, { kind: 'rationalisation' }>,
): Promise<ChangedRules> => {
  const inForce = await readInForceFor(sql, kind);
  const changed = { ...inForce, [signature]: { signature, record } };
  const before = JSON.stringify(ruleFrom(signature, inForce[signature].record));
  return {
    rules: rulesFrom(Object.values(changed)),
    replay: !isClocked(signature) && before !== JSON.stringify(ruleFrom(signature, record)),
  };
};
