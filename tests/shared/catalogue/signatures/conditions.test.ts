/**
 * The conditions that a residual-gas record is asked about, 28 of them (common practice of vacuum work): each is either
 * called under a signature of the contract, or the list says why the record cannot show it.
 */
import { describe, expect, test } from 'vitest';
import { DECISION_ORDER, VACUUM_CONDITIONS } from '../../../../shared/catalogue/signatures/conditions.ts';
import { SIGNATURES_BY_ID } from '../../../../shared/catalogue/signatures.ts';
import { SIGNATURES } from '../../../../shared/contract/words.ts';

describe('the conditions of a vacuum system', () => {
  test('are all answered', () => {
    expect(VACUUM_CONDITIONS).toHaveLength(28);
    expect(new Set(VACUUM_CONDITIONS.map(({ condition }) => condition)).size).toBe(28);
    for (const { condition, toldBy } of VACUUM_CONDITIONS) expect(toldBy, condition).toMatch(/\.$/);
  });

  test.each(VACUUM_CONDITIONS.map((entry) => [entry.condition, entry] as const))(
    '%s is called under a signature that runs an example, or is expected in its state',
    (_condition, { signatures, step }) => {
      if (signatures.length === 0) expect(step).toBe('state');
      for (const signature of signatures) {
        expect(SIGNATURES).toContain(signature);
        if (signature !== 'pump-down-late') expect(SIGNATURES_BY_ID[signature].example).not.toBeNull();
      }
    },
  );

  test('speak for every signature but those that people set or that have no name', () => {
    const spoken = new Set(VACUUM_CONDITIONS.flatMap(({ signatures }) => signatures));
    expect(SIGNATURES.filter((signature) => !spoken.has(signature))).toEqual(['limit']);
  });

  test('are decided from the data to the unknown', () => {
    expect(DECISION_ORDER[0]).toBe('data');
    expect(DECISION_ORDER.at(-1)).toBe('unknown');
    const order = (word: string) => DECISION_ORDER.indexOf(word as (typeof DECISION_ORDER)[number]);
    expect(order('artefact')).toBeLessThan(order('air'));
    expect(order('air')).toBeLessThan(order('pump'));
    for (const { step } of VACUUM_CONDITIONS) expect(order(step)).toBeGreaterThanOrEqual(0);
  });
});
