import { describe, expect, test } from 'vitest';
import { readAddress } from '../../../web/address/codec.ts';
import { compareCodec } from '../../../web/compare/address.ts';
import { paired, pairOf } from '../../../web/compare/pairs.ts';
import { round } from '../fixture/lines.ts';

const chambers = paired(round(Date.UTC(2026, 10, 25)));
const asked = (search: string) => pairOf(readAddress(compareCodec, search), chambers);

describe('which two are compared', () => {
  test('only chambers with two analysers are offered', () => {
    expect(chambers.map(({ id }) => id)).toEqual(['preparation-2']);
    expect(paired(undefined)).toEqual([]);
  });

  test('an address that says nothing gets the first chamber, its two analysers, and water', () => {
    expect(asked('')).toMatchObject({ first: 'preparation-2-a', second: 'preparation-2-b', relativeTo: 'H2O' });
  });

  test('never one with itself: the other one takes the other place', () => {
    expect(asked('chamber=preparation-2&first=preparation-2-b')).toMatchObject({ second: 'preparation-2-a' });
    expect(asked('chamber=preparation-2&second=preparation-2-a')).toMatchObject({ first: 'preparation-2-b' });
    expect(asked('first=x&second=y')).toMatchObject({ first: 'preparation-2-a', second: 'preparation-2-b' });
  });

  test('a chamber with one analyser has no pair', () => {
    expect(asked('chamber=store')).toBeNull();
  });
});
