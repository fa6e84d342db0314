import { expect, test } from 'vitest';
import { listed, many, plural } from '../../../web/strings/plural.ts';

const CHAMBER = { one: 'chamber', other: 'chambers' };

test('a count stands with its form: English has one and other (Unicode CLDR plural rules)', () => {
  expect([0, 1, 2, 11, 21, 101].map((n) => plural(n, CHAMBER))).toEqual([
    'chambers',
    'chamber',
    'chambers',
    'chambers',
    'chambers',
    'chambers',
  ]);
  expect(many(1, CHAMBER)).toBe('1 chamber');
  expect(many(1200, CHAMBER)).toBe('1\u202f200 chambers');
});

test('a list is said with its conjunction', () => {
  expect([[], ['nitrogen'], ['nitrogen', 'oxygen', 'argon']].map(listed)).toEqual([
    '',
    'nitrogen',
    'nitrogen, oxygen and argon',
  ]);
});
