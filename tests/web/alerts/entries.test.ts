import { describe, expect, test } from 'vitest';
import { countAside, entriesOf, groupsFrom, partedBy } from '../../../web/alerts/entries.ts';
import { group } from '../fixture/alarms.ts';
import { alerts, togetherAndAside } from '../fixture/science.ts';

const now = Date.UTC(2026, 10, 27, 5);

describe('entries of the list', () => {
  const all = [...alerts(now).filter(({ id }) => id !== 'a-line'), ...togetherAndAside(now)];

  test('members stand once, in the place of the weightiest; a lone member stays an alert', () => {
    const kinds = entriesOf(all, [group(now)]).map((entry) =>
      entry.kind === 'group' ? entry.group.id : entry.alert.id,
    );
    expect(kinds.filter((id) => id.startsWith('a-line'))).toEqual([]);
    expect(kinds[0]).toBe('a-air');
    expect(kinds[1]).toBe('g-1');
    const alone = all.filter(({ id }) => id !== 'a-line' && id !== 'a-line-2');
    expect(entriesOf(alone, [group(now)]).every(({ kind }) => kind === 'alert')).toBe(true);
  });

  test('no alert is lost, whatever is known of groups', () => {
    for (const groups of [[], [group(now)]]) {
      const shown = entriesOf(all, groups).flatMap((entry) => (entry.kind === 'group' ? entry.members : [entry.alert]));
      expect(shown.map(({ id }) => id).sort()).toEqual(all.map(({ id }) => id).sort());
    }
  });

  test('groups are asked for only where an alert says that it belongs to one, and from before it began', () => {
    expect(groupsFrom(alerts(now))).toBeNull();
    expect(groupsFrom(all)).toBeLessThan(now - 2 * 3_600_000);
  });

  test('what calls nobody is parted by what holds it, the soonest to end first', () => {
    const later = {
      ...all[0],
      id: 'later',
      state: 'shelved',
      shelvedUntil: new Date(now + 2e7).toISOString(),
    } as const;
    const soon = { ...later, id: 'soon', shelvedUntil: new Date(now + 1e7).toISOString() };
    const lists = partedBy([...all, later as never, soon as never]);
    expect(lists.aside.shelved.map(({ id }) => id)).toEqual(['soon', 'later']);
    expect(lists.aside['out-of-service'].map(({ id }) => id)).toEqual(['a-out']);
    expect(countAside(lists)).toBe(4);
    expect(lists.calling.some(({ state }) => state === 'suppressed')).toBe(false);
  });
});
