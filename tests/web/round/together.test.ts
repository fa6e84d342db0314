import { describe, expect, test } from 'vitest';
import { EVERYTHING } from '../../../web/round/address.ts';
import { shownAreas } from '../../../web/round/rows.ts';
import { askedFrom, needOf, type Together, togetherOf, walkWith } from '../../../web/round/together.ts';
import { group } from '../fixture/alarms.ts';
import { round } from '../fixture/lines.ts';

const now = Date.UTC(2026, 10, 27, 5);
const filter = EVERYTHING;
const areas = shownAreas(round(now), filter, { nowMs: now, shelved: new Map() });
const need = areas.flatMap((rows) => rows.need);

describe('chambers that share a cause', () => {
  const ids = need.slice(0, 2).map(({ worst }) => worst?.id ?? '');
  const shared = { ...group(now), alerts: ids };
  const linesOf = (together: readonly Together[]) =>
    areas.flatMap((rows) =>
      needOf(rows, together).flatMap((entry) =>
        'line' in entry ? [entry.line.id] : entry.together.lines.map(({ id }) => id),
      ),
    );

  test('stand once, in the area of the first of them; nobody is lost and nobody stands twice', () => {
    const together = togetherOf(areas, [shared, { ...shared, id: 'g-2' }]);
    expect(together.map(({ group: { id } }) => id)).toEqual(['g-1']);
    expect(together[0]?.area).toBe(need[0]?.area);
    expect([...linesOf(together)].sort()).toEqual(need.map(({ id }) => id).sort());
  });

  test('a group does not stand above what is worse', () => {
    const [high, ...others] = need.filter(({ area }) => area === need[0]?.area);
    expect(high?.worst?.priority).toBe('high');
    const low = { ...shared, priority: 'low' as const, alerts: others.map(({ worst }) => worst?.id ?? '') };
    const across = { ...low, alerts: [...low.alerts, ...need.slice(-1).map(({ worst }) => worst?.id ?? '')] };
    const rows = areas[0];
    const first = rows && needOf(rows, togetherOf(areas, [across]))[0];
    expect(first && 'line' in first ? first.line.id : null).toBe(high?.id);
  });

  test('one alone is no group', () => {
    expect(togetherOf(areas, [{ ...shared, alerts: ids.slice(0, 1) }])).toEqual([]);
    expect(linesOf([])).toEqual(need.map(({ id }) => id));
  });

  test('a walk goes through the members of an open group only', () => {
    const together = togetherOf(areas, [shared]);
    const closed = walkWith(areas, together, new Set()).map(({ id }) => id);
    const open = walkWith(areas, together, new Set(['g-1'])).map(({ id }) => id);
    expect(open.length - closed.length).toBe(2);
    expect(closed).not.toContain(need[0]?.id);
    expect(open).toEqual(expect.arrayContaining(need.map(({ id }) => id)));
  });

  test('nothing is asked where fewer than two need a person', () => {
    expect(askedFrom(round(now))).toBeLessThan(now);
    expect(askedFrom({ ...round(now), areas: [] })).toBeNull();
  });
});
