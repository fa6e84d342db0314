import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseInstant, queryInstant } from '../../server/instant.ts';

describe('a time as in RFC 3339', () => {
  // The examples of RFC 3339, section 5.8; their UTC times stand there in words.
  test.each([
    ['1985-04-12T23:20:50.52Z', '1985-04-12T23:20:50.520Z'],
    ['1996-12-19T16:39:57-08:00', '1996-12-20T00:39:57.000Z'],
    ['1990-12-31T23:59:60Z', '1991-01-01T00:00:00.000Z'],
    ['1990-12-31T15:59:60-08:00', '1991-01-01T00:00:00.000Z'],
    ['1937-01-01T12:00:27.87+00:20', '1937-01-01T11:40:27.870Z'],
  ])('%s', (text, utc) => {
    expect(new Date(parseInstant(text) ?? Number.NaN).toISOString()).toBe(utc);
  });

  test('is read back from every instant, in any offset', () => {
    fc.assert(
      fc.property(
        fc.date({ min: new Date('1990-01-01'), max: new Date('2100-01-01'), noInvalidDate: true }),
        fc.integer({ min: -23 * 60 - 59, max: 23 * 60 + 59 }),
        (date, minutes) => {
          const local = new Date(date.getTime() + minutes * 60_000).toISOString().slice(0, -1);
          const size = Math.abs(minutes);
          const two = (n: number) => String(Math.floor(n)).padStart(2, '0');
          const offset = `${minutes < 0 ? '-' : '+'}${two(size / 60)}:${two(size % 60)}`;
          expect(parseInstant(`${local}${offset}`)).toBe(date.getTime());
        },
      ),
    );
  });

  test.each([
    '',
    'now',
    '2026-03-02',
    '2026-03-02T11:00:00',
    '2026-03-02T11:00Z',
    '2026-13-02T11:00:00Z',
    '2026-02-29T11:00:00Z',
    '2026-03-02T24:00:00Z',
    '2026-03-02T11:60:00Z',
    '2026-03-02T11:00:00+24:00',
    '2026-03-02T11:00:00+0100',
    '12026-03-02T11:00:00Z',
    ' 2026-03-02T11:00:00Z',
  ])('not %j', (text) => {
    expect(parseInstant(text)).toBeNull();
  });

  test('in an address may have lost its plus', () => {
    expect(queryInstant('from', '2026-03-02T11:00:00.5 01:00')?.toISOString()).toBe('2026-03-02T10:00:00.500Z');
    expect(() => queryInstant('from', '2026-03-02T11:00:00 1:00')).toThrow(/from/);
    expect(queryInstant('from', undefined)).toBeNull();
  });
});
