import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { keepRecent } from '../../../shared/contract/recent.ts';

describe('what was told lately', () => {
  test('after any place that is still known comes exactly what was told since; after any other, no answer', () => {
    fc.assert(
      fc.property(fc.nat(40), fc.integer({ min: 1, max: 20 }), fc.nat(45), (told, most, asked) => {
        const recent = keepRecent<number>('p0', most);
        for (let n = 1; n <= told; n += 1) recent.add(`p${n}`, n);
        expect(recent.place()).toBe(`p${told}`);
        const known = asked <= told && asked >= told - most;
        const since = Array.from({ length: Math.max(0, told - asked) }, (_, i) => asked + 1 + i);
        expect(recent.after(`p${asked}`)).toEqual(known ? since : null);
      }),
    );
  });

  test('a gap in the telling forgets what lay before it', () => {
    const recent = keepRecent<string>('a', 10);
    recent.add('b', 'first');
    recent.startAt('c');
    recent.add('d', 'second');
    expect(recent.after('b')).toBeNull();
    expect(recent.after('c')).toEqual(['second']);
    expect(recent.after(null)).toBeNull();
    expect(recent.place()).toBe('d');
  });
});
