import { expect, test } from 'vitest';
import { BUILT_IN_RATIONALISATION } from '../../shared/catalogue/rationalisation.ts';
import { SIGNATURES } from '../../shared/contract/words.ts';
import { type JudgedBy, ruleFrom, rulesFrom } from '../../workers/signatureRules.ts';

const water = BUILT_IN_RATIONALISATION.water.record;
const rule = (change: Partial<JudgedBy>) => ruleFrom('water', { ...water, ...change });

test('what is built in asks nothing of the watch', () => {
  expect(rulesFrom(SIGNATURES.map((signature) => BUILT_IN_RATIONALISATION[signature]))).toEqual([]);
});

test('each field that differs, and no other', () => {
  expect(rule({ priority: 'high' })).toEqual({ signature: 'water', priority: 'high' });
  expect(rule({ leastDecades: 0.2 })).toEqual({ signature: 'water', leastDecades: 0.2 });
  expect(rule({ onDelayScans: 5 })).toEqual({ signature: 'water', onDelayScans: 5 });
  expect(rule({ armedStates: ['base'] })).toEqual({ signature: 'water', armedStates: ['base'] });
});

test('the order of states says nothing', () => {
  expect(rule({ armedStates: [...water.armedStates].reverse() })).toBeNull();
});
