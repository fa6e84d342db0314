import { describe, expect, test } from 'vitest';
import { judgeRecord } from '../../server/judgeRecord.ts';
import { BUILT_IN_RATIONALISATION } from '../../shared/catalogue/rationalisation.ts';
import type { RationalisationRecord } from '../../shared/contract/rationalisation.ts';
import { SIGNATURES, type Signature } from '../../shared/contract/words.ts';

const pathsOf = (signature: Signature, change: Partial<RationalisationRecord>) =>
  judgeRecord(signature, { ...BUILT_IN_RATIONALISATION[signature].record, ...change }).map(({ path }) => path);

test('what is built in may be written', () => {
  for (const signature of SIGNATURES) expect(pathsOf(signature, {})).toEqual([]);
});

describe('the priority', () => {
  test('follows from severity and time, or the basis says why not', () => {
    expect(pathsOf('water', { severity: 'severe', timeToRespondMinutes: 5 })).toEqual(['/record/priority']);
    expect(pathsOf('water', { severity: 'severe', timeToRespondMinutes: 5, priority: 'high' })).toEqual([]);
    const basis = 'Cooled absorbers. Priority is low because the interlock closes the circuit first.';
    expect(pathsOf('water', { severity: 'severe', timeToRespondMinutes: 5, basis })).toEqual([]);
  });
});

describe('the states', () => {
  test('are among those in which the watch judges: nothing is promised that it does not do', () => {
    expect(pathsOf('water', { armedStates: ['base'] })).toEqual([]);
    expect(pathsOf('water', { armedStates: ['base', 'bake'] })).toEqual(['/record/armedStates']);
    const [problem] = judgeRecord('limit', { ...BUILT_IN_RATIONALISATION.limit.record, armedStates: ['plasma'] });
    expect(problem?.problem).toBe('the watch does not judge limit in plasma, only in base, leak-check, cool-down');
  });

  test('of a fault of the measurement stay armed, all of them', () => {
    expect(pathsOf('frozen', { armedStates: ['base'] })).toEqual(['/record/armedStates']);
  });
});

describe('dead band and on-delay', () => {
  test('only widen and lengthen what is built in, and only where the spectrum is judged by them', () => {
    expect(pathsOf('water', { leastDecades: 0.3, onDelayScans: 10 })).toEqual([]);
    expect(pathsOf('water', { leastDecades: 0.05, onDelayScans: 2 })).toEqual([
      '/record/leastDecades',
      '/record/onDelayScans',
    ]);
    for (const signature of ['limit', 'silent', 'pump-down-late'] as const)
      expect(pathsOf(signature, { leastDecades: 0.3, onDelayScans: 10 })).toHaveLength(2);
  });
});

test('blank texts are told by name', () => {
  expect(pathsOf('water', { consequence: ' ', owner: ' ', causes: ['wall', ' '] })).toEqual([
    '/record/consequence',
    '/record/owner',
    '/record/causes/1',
  ]);
});
