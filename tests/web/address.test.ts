import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { safePath } from '../../web/access/SignInPage.tsx';
import { type Codec, readAddress, writeAddress } from '../../web/address/codec.ts';
import { frozenSearch } from '../../web/address/frozen.ts';
import { alertsCodec, askedOf } from '../../web/alerts/address.ts';
import { chamberCodec } from '../../web/chamber/address.ts';
import { spanOf } from '../../web/chamber/span.ts';
import { performanceCodec } from '../../web/performance/address.ts';
import { ticketAddress, ticketCodec } from '../../web/ticket/address.ts';

const web = resolve(import.meta.dirname, '../../web');

/** Every codec of every view: what an `address.ts` exports under a name that ends in `Codec`. */
const files = readdirSync(web)
  .map((room) => join(web, room, 'address.ts'))
  .filter(existsSync);
const modules = await Promise.all(files.map((file) => import(file) as Promise<Record<string, unknown>>));
const CODECS = modules.flatMap((module) =>
  Object.entries(module).flatMap(([name, value]) =>
    name.endsWith('Codec') && typeof value === 'object'
      ? [[name, value as Codec<Record<string, unknown>>] as const]
      : [],
  ),
);

/** What people and older versions may have written: the words of the codecs themselves, times, numbers, anything. */
const quoted = files.flatMap((file) =>
  [...readFileSync(file, 'utf8').matchAll(/'([^'\n]*)'/g)].map((m) => m[1] as string),
);
const text = fc.oneof(
  fc.constantFrom(...new Set(quoted)),
  fc.integer({ min: 0, max: 4e9 }).map((second) => new Date(second * 1000).toISOString()),
  fc.constantFrom('2026-11-27', '2026-11-27T05:00:00+02:00', '27.11.2026', '-1', '1e-8', ',,', 'N2,O2,N2'),
  fc.string({ unit: 'binary', maxLength: 300 }),
  fc.string(),
);
const searchOf = (codec: Codec<Record<string, unknown>>) =>
  fc
    .record(Object.fromEntries(Object.keys(codec).map((name) => [name, fc.option(text)])))
    .map(
      (fields) =>
        new URLSearchParams(Object.entries(fields).flatMap(([name, value]) => (value === null ? [] : [[name, value]]))),
    );

describe('addresses of views', () => {
  test('there are codecs to test', () => {
    expect(CODECS.map(([name]) => name)).toEqual(
      expect.arrayContaining(['roundCodec', 'alertsCodec', 'chamberCodec', 'compareCodec', 'analyserCodec']),
    );
  });

  test.each(CODECS)('%s: what a view holds comes back as it was', (_name, codec) => {
    fc.assert(
      fc.property(searchOf(codec), (search) => {
        const value = readAddress(codec, String(search));
        // A lone half of a character cannot be written in any address; nothing else is lost.
        fc.pre(!/\\ud[89a-f]/.test(JSON.stringify(value)));
        expect(readAddress(codec, writeAddress(codec, value))).toEqual(value);
      }),
    );
  });

  test.each(CODECS)('%s: any text can be opened, and its address does not change any more', (_name, codec) => {
    fc.assert(
      fc.property(fc.oneof(searchOf(codec).map(String), fc.string({ unit: 'binary' })), (search) => {
        const once = writeAddress(codec, readAddress(codec, search));
        expect(writeAddress(codec, readAddress(codec, once))).toBe(once);
      }),
    );
  });

  test.each(CODECS)('%s: the default view has no address of its own', (_name, codec) => {
    expect(writeAddress(codec, readAddress(codec, ''))).toBe('');
  });

  test('nonsense falls back to the default, the rest is kept', () => {
    expect(readAddress(chamberCodec, 'range=9y&from=never&gases=N2,,N2,O2&later=1')).toMatchObject({
      range: '30h',
      from: null,
      gases: ['N2', 'O2'],
    });
  });
});

describe('a link that is copied', () => {
  const NOW = Date.UTC(2026, 10, 27, 5, 0, 0, 400);

  test('holds a span that moves with the clock at its two ends', () => {
    const search = frozenSearch('gases=N2%2CO2&range=7d', NOW, [chamberCodec]);
    expect(readAddress(chamberCodec, search)).toMatchObject({
      gases: ['N2', 'O2'],
      from: Date.UTC(2026, 10, 20, 5, 0, 1),
      to: Date.UTC(2026, 10, 27, 5, 0, 1),
    });
    expect(readAddress(chamberCodec, frozenSearch('', NOW, [chamberCodec])).from, 'the default moves too').toBe(
      Date.UTC(2026, 10, 25, 23, 0, 1),
    );
    expect(readAddress(performanceCodec, frozenSearch('last=90d', NOW, [performanceCodec])).from).toBe(
      Date.UTC(2026, 7, 29, 5, 0, 1),
    );
  });

  test('leaves a fixed span, and views without one, as they are', () => {
    const fixed = 'from=2026-11-01T00%3A00%3A00Z&to=2026-11-02T00%3A00%3A00Z';
    expect(frozenSearch(fixed, NOW, [chamberCodec])).toBe(fixed);
    expect(frozenSearch('state=shelved&find=oil', NOW, [alertsCodec])).toBe('state=shelved&find=oil');
  });

  test('is the same when it is copied again from where it leads', () => {
    const once = frozenSearch('range=8h', NOW, [chamberCodec]);
    expect(frozenSearch(once, NOW + 1e9, [chamberCodec])).toBe(once);
  });

  test('says nothing of unit, zone or theme: they are the reader’s own', () => {
    for (const [, codec] of CODECS) expect(Object.keys(codec)).not.toEqual(expect.arrayContaining(['theme', 'zone']));
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

test('a ticket has a fixed span in whole seconds, so that the same address is the same ticket', () => {
  const asked = {
    chamber: 'a b',
    span: { from: 1_764_219_840_123, to: 1_764_223_440_999 },
    gases: ['N2', 'O2'],
    alert: 'x',
    analyser: '',
    unit: 'mbar' as const,
  };
  expect(ticketAddress(asked)).toBe(
    '/chambers/a%20b/ticket?from=2025-11-27T05%3A04%3A00Z&to=2025-11-27T06%3A04%3A00Z&gases=N2%2CO2&alert=x&unit=mbar',
  );
});

test('a ticket whose span ends with a scan keeps its milliseconds', () => {
  const address = readAddress(ticketCodec, 'from=2025-11-27T05:04:00Z&to=2025-11-27T06:04:00.250Z');
  expect(address.to).toBe('2025-11-27T06:04:00.250Z');
  expect(readAddress(ticketCodec, writeAddress(ticketCodec, address))).toEqual(address);
  expect(readAddress(ticketCodec, 'from=yesterday').from).toBe('');
});

test('signing in leads to a page of this site and nowhere else', () => {
  expect(safePath('/chambers/x?range=7d')).toBe('/chambers/x?range=7d');
  for (const outside of ['https://example.org', '//example.org', '/\\example.org', 'javascript:alert(1)', null]) {
    expect(safePath(outside)).toBe('/');
  }
});
