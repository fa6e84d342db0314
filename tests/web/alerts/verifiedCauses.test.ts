import { expect, test } from 'vitest';
import { VERIFIED_CAUSES } from '../../../shared/contract/alerts.ts';
import { CAUSE_GROUPS, isSignature } from '../../../web/alerts/verifiedCauses.ts';
import { causeTitle } from '../../../web/notation/words.ts';

test('every cause of the contract can be chosen, once, and has a name', () => {
  const words = CAUSE_GROUPS.flatMap(([, causes]) => causes);
  expect([...words].sort()).toEqual([...VERIFIED_CAUSES].sort());
  for (const word of words) expect(causeTitle(word)).toMatch(/^[A-Z]/);
  expect(causeTitle('written by hand')).toBe('written by hand');
});

test('only a signature can become an example', () => {
  expect(isSignature('air-leak')).toBe(true);
  for (const word of ['trapped-volume', 'planned-work', 'false-alert', 'not-found', null]) {
    expect(isSignature(word)).toBe(false);
  }
});
