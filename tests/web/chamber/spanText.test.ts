import { describe, expect, test } from 'vitest';
import { spanText } from '../../../web/chamber/spanText.ts';

/** Calendar of 2026: 30 November is a Monday; Oslo is at +01:00 then. */
const NOW = Date.parse('2026-11-30T12:51:00+01:00');
const said = (from: string, to: string) => spanText({ from: Date.parse(from), to: Date.parse(to) }, 'Europe/Oslo', NOW);

describe('a span in words', () => {
  test('names the day of its end wherever that is not the day of its start', () => {
    expect(said('2026-11-29T06:51:00+01:00', '2026-11-30T12:51:00+01:00')).toBe('Sun 06:51 – Mon 12:51');
    expect(said('2026-10-20T13:51:00+02:00', '2026-11-30T08:51:00+01:00')).toBe('20 Oct 13:51 – 30 Nov 08:51');
    expect(said('2026-11-18T12:51:00+01:00', '2026-11-20T12:51:00+01:00')).toBe('18 Nov 12:51 – 20 Nov 12:51');
  });
  test('says the day once where both ends have the same', () => {
    expect(said('2026-11-30T08:00:00+01:00', '2026-11-30T12:51:00+01:00')).toBe('08:00 – 12:51');
    expect(said('2026-11-29T08:00:00+01:00', '2026-11-29T12:51:00+01:00')).toBe('Sun 08:00 – 12:51');
  });
});
