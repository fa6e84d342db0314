import { describe, expect, test } from 'vitest';
import { EVERYTHING } from '../../../web/round/address.ts';
import { groupOf, isFound, rowsOf, signedOf } from '../../../web/round/rows.ts';
import { ago, line, round } from '../fixture/lines.ts';
import { AIR } from '../fixture/marks.ts';

const now = Date.now();

describe('groups', () => {
  const looking = { nowMs: now, shelved: new Map() };
  test('a chamber that has gone quiet since the server spoke is never at rest', () => {
    const quiet = line(now, { name: 'A', lastScanAt: ago(now, 4 * 60_000) });
    expect(groupOf(line(now, { name: 'A' }), now)).toBe('rest');
    expect(groupOf(quiet, now)).toBe('blind');
    expect(groupOf({ ...quiet, health: 'changed' }, now)).toBe('blind');
    expect(groupOf({ ...quiet, health: 'unwatched' }, now)).toBe('changed');
  });
  test('what has changed since the last round, or is put aside, is not folded away', () => {
    expect(groupOf(line(now, { name: 'A', change: 'better' }), now)).toBe('changed');
    expect(groupOf(line(now, { name: 'A' }), now, true)).toBe('changed');
  });
  test('an open alert wants somebody, whatever is seen of its chamber; one that is acknowledged is in hand', () => {
    const lines = round(now).areas.flatMap(({ chambers }) => chambers);
    const at = (id: string) => groupOf(lines.find((one) => one.id === id) as (typeof lines)[number], now);
    expect(['preparation-2', 'monochromator', 'slits', 'load-lock-2'].map(at)).toEqual([
      'need',
      'need',
      'hand',
      'blind',
    ]);
  });
  test('no chamber is lost and none is shown twice', () => {
    for (const area of round(now).areas) {
      const { need, hand, blind, changed, rest } = rowsOf(area, area.chambers, looking);
      const ids = [...need, ...hand, ...blind, ...changed, ...rest].map(({ id }) => id);
      expect(new Set(ids).size).toBe(area.chambers.length);
      expect(ids).toHaveLength(area.chambers.length);
    }
  });
  test('find looks at names, tags, words and at gases that stand out', () => {
    const none = EVERYTHING;
    const leaking = line(now, { name: 'Preparation 2', strip: AIR, tags: ['uhv'] });
    expect(isFound(leaking, { ...none, find: 'argon prep' })).toBe(true);
    expect(isFound(leaking, { ...none, find: 'uhv' })).toBe(true);
    expect(isFound(leaking, { ...none, find: 'helium' })).toBe(false);
    expect(isFound(leaking, { ...none, kind: 'etch' })).toBe(false);
    expect(isFound(leaking, { ...none, gas: 'Ar' })).toBe(true);
    expect(isFound(leaking, { ...none, gas: 'H2O' })).toBe(false);
    expect(isFound(leaking, { ...none, since: 'changed' })).toBe(false);
    expect(isFound({ ...leaking, change: 'worse' }, { ...none, since: 'changed' })).toBe(true);
  });
});

test('of the areas that were signed the newest comes first; one that never was is left out', () => {
  const told = round(now);
  const [one, two] = told.areas as [(typeof told.areas)[number], (typeof told.areas)[number]];
  const signed = (id: string, hoursAgo: number) => ({
    id,
    at: ago(now, hoursAgo * 3_600_000),
    by: 'J. Ravn',
    note: '',
    countersigned: null,
  });
  const areas = [
    { ...one, lastSigned: signed('older', 9) },
    { ...two, id: 'never', lastSigned: null },
    { ...two, lastSigned: signed('newer', 1) },
  ];
  expect(signedOf({ ...told, areas }).map(({ id }) => id)).toEqual(['newer', 'older']);
});
