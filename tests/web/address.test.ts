import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { safePath } from '../../web/access/SignInPage.tsx';
import { readAddress, writeAddress } from '../../web/address/codec.ts';
import { alertsCodec, askedOf, PRIORITY_CHOICES, SIGNATURE_CHOICES, STATE_CHOICES } from '../../web/alerts/address.ts';
import { type ChamberAddress, chamberCodec, RANGES } from '../../web/chamber/address.ts';
import { spanOf } from '../../web/chamber/span.ts';
import { ticketAddress } from '../../web/chamber/ticket.ts';
import { type CompareAddress, compareCodec } from '../../web/compare/address.ts';
import {
  type AnalyserAddress,
  analyserCodec,
  type MeasurementAddress,
  measurementCodec,
} from '../../web/measurement/address.ts';
import { QUANTITIES } from '../../web/measurement/quantities.ts';
import { roundCodec } from '../../web/round/address.ts';

const word = fc.string({ minLength: 0, maxLength: 30 });
const id = fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9._-]{0,20}$/);
const second = fc.option(fc.integer({ min: 0, max: 4e9 }).map((s) => s * 1000));

describe('addresses of views', () => {
  test('a round comes back as it was', () => {
    const view = fc.record({ find: word, area: id, kind: word, state: word, tag: word });
    fc.assert(
      fc.property(view, (value) => {
        expect(readAddress(roundCodec, writeAddress(roundCodec, value))).toEqual(value);
      }),
    );
  });

  test('a chamber comes back as it was', () => {
    const view = fc.record({
      alert: id,
      analyser: id,
      range: fc.constantFrom(...RANGES),
      from: second,
      to: second,
      gases: fc.uniqueArray(id, { maxLength: 8 }),
      view: fc.constantFrom('chart' as const, 'table' as const),
      scale: fc.constantFrom('log' as const, 'linear' as const),
      recomputation: id,
      rehearsal: id,
      pinned: id,
    });
    fc.assert(
      fc.property(view, (value: ChamberAddress) => {
        expect(readAddress(chamberCodec, writeAddress(chamberCodec, value))).toEqual(value);
      }),
    );
  });

  test('alerts come back as they were', () => {
    const view = fc.record({
      find: word,
      state: fc.constantFrom(...STATE_CHOICES),
      priority: fc.constantFrom(...PRIORITY_CHOICES),
      signature: fc.constantFrom(...SIGNATURE_CHOICES),
      chamber: id,
    });
    fc.assert(
      fc.property(view, (value) => {
        expect(readAddress(alertsCodec, writeAddress(alertsCodec, value))).toEqual(value);
      }),
    );
  });

  test('the pages of the measurement come back as they were', () => {
    const list = fc.record({ find: word, area: id, show: fc.constantFrom('all' as const, 'with a remark' as const) });
    fc.assert(
      fc.property(list, (value: MeasurementAddress) => {
        expect(readAddress(measurementCodec, writeAddress(measurementCodec, value))).toEqual(value);
      }),
    );
    const view = fc.constantFrom('chart' as const, 'table' as const);
    const span = { range: fc.constantFrom(...RANGES), from: second, to: second };
    const one = fc.record({
      ...span,
      quantity: fc.constantFrom(...QUANTITIES),
      view,
      residuals: view,
      plan: view,
      gas: id,
      pressure: fc.double({ min: 1e-15, max: 1e-3, noNaN: true }).map(String),
    });
    fc.assert(
      fc.property(one, (value: AnalyserAddress) => {
        expect(readAddress(analyserCodec, writeAddress(analyserCodec, value))).toEqual(value);
      }),
    );
    const pair = fc.record({ ...span, chamber: id, first: id, second: id, relativeTo: id });
    fc.assert(
      fc.property(pair, (value: CompareAddress) => {
        expect(readAddress(compareCodec, writeAddress(compareCodec, value))).toEqual(value);
      }),
    );
  });

  test('any text can be opened: nonsense falls back to the default', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const read = readAddress(chamberCodec, text);
        expect(RANGES).toContain(read.range);
        expect(read.gases.length).toBeLessThanOrEqual(8);
      }),
    );
    expect(readAddress(chamberCodec, 'range=9y&from=never&gases=N2,,N2,O2&later=1')).toMatchObject({
      range: '30h',
      from: null,
      gases: ['N2', 'O2'],
    });
  });

  test('defaults are left out', () => {
    expect(writeAddress(chamberCodec, readAddress(chamberCodec, ''))).toBe('');
    expect(writeAddress(alertsCodec, readAddress(alertsCodec, ''))).toBe('');
    expect(writeAddress(measurementCodec, readAddress(measurementCodec, ''))).toBe('');
    expect(writeAddress(analyserCodec, readAddress(analyserCodec, ''))).toBe('');
    expect(writeAddress(compareCodec, readAddress(compareCodec, ''))).toBe('');
  });
});

test('open alerts are asked for by every state but the one that is over', () => {
  const asked = askedOf(readAddress(alertsCodec, ''));
  expect(asked.state?.split(',')).toContain('returned-unacknowledged');
  expect(asked.state?.split(',')).not.toContain('normal');
});

test('a fixed span is kept, a range ends now, and nothing lies in the future', () => {
  const now = Date.UTC(2026, 10, 27, 5);
  expect(spanOf({ from: null, to: null, range: '8h' }, now)).toEqual({ from: now - 8 * 3_600_000, to: now });
  const fixed = { from: now - 5_000_000, to: now - 1_000_000, range: '8h' as const };
  expect(spanOf(fixed, now)).toEqual({ from: fixed.from, to: fixed.to });
  expect(spanOf({ ...fixed, to: now + 9_000_000 }, now).to).toBe(now);
});

test('the ticket is asked for in whole seconds, so that the same address gives the same bytes', () => {
  const asked = {
    chamber: 'a b',
    span: { from: 1_764_219_840_123, to: 1_764_223_440_999 },
    gases: ['N2', 'O2'],
    alert: 'x',
  };
  expect(ticketAddress(asked)).toBe(
    '/api/v1/chambers/a%20b/ticket?from=2025-11-27T05%3A04%3A00Z&to=2025-11-27T06%3A04%3A00Z&gases=N2%2CO2&alert=x',
  );
});

test('signing in leads to a page of this site and nowhere else', () => {
  expect(safePath('/chambers/x?range=7d')).toBe('/chambers/x?range=7d');
  for (const outside of ['https://example.org', '//example.org', '/\\example.org', 'javascript:alert(1)', null]) {
    expect(safePath(outside)).toBe('/');
  }
});
