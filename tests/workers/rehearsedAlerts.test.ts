import { describe, expect, test } from 'vitest';
import type { RehearsedAlert } from '../../shared/contract/rehearsal.ts';
import type { WatchEvent } from '../../shared/watch/types.ts';
import { compareAlerts, standingSince, withClose, withEvent } from '../../workers/rehearsedAlerts.ts';
import { raised, returned } from '../support/scriptedScience.ts';

const at = (minute: number): number => Date.UTC(2031, 2, 4, 6, minute);
const iso = (minute: number): string => new Date(at(minute)).toISOString();
const updated = (...asked: Parameters<typeof raised>): WatchEvent =>
  ({ ...raised(...asked), kind: 'updated' }) as WatchEvent;
const alert = (raisedAt: number, returnedAt: number | null, stated: Partial<RehearsedAlert> = {}): RehearsedAlert => ({
  signature: 'air-leak',
  gases: ['N2'],
  priority: 'medium',
  raisedAt: iso(raisedAt),
  returnedAt: returnedAt === null ? null : iso(returnedAt),
  ...stated,
});

describe('what the watch says becomes alerts', () => {
  test('raised, updated and returned are one; raised again is another', () => {
    const events = [
      raised(at(1), 'air-leak'),
      updated(at(2), 'air-leak', { gases: ['O2'], priority: 'high' }),
      returned(at(5), 'air-leak'),
      raised(at(9), 'air-leak'),
    ];
    expect(events.reduce(withEvent, [] as readonly RehearsedAlert[])).toEqual([
      alert(1, 5, { gases: ['N2', 'O2'], priority: 'high' }),
      alert(9, null),
    ]);
  });

  test('one that a person has closed ends there, and the next call is another', () => {
    const first = withEvent([], raised(at(1), 'air-leak'));
    const closed = withClose(first, { signature: 'air-leak', atMs: at(4) });
    expect(withEvent(closed, raised(at(7), 'air-leak'))).toEqual([alert(1, 4), alert(7, null)]);
  });

  test('a return or an update of what does not stand says nothing', () => {
    expect(withEvent([], returned(at(1), 'water'))).toEqual([]);
    expect(withEvent([], updated(at(1), 'water'))).toEqual([]);
    expect(withClose([], { signature: 'water', atMs: at(1) })).toEqual([]);
  });

  test('what was over before the counted time is left out', () => {
    const alerts = [alert(1, 3), alert(2, 6), alert(4, null)];
    expect(standingSince(alerts, at(5))).toEqual([alert(2, 6), alert(4, null)]);
  });
});

describe('two runs compared', () => {
  test('the same alerts are neither gained, lost nor moved', () => {
    expect(compareAlerts([alert(1, 5)], [alert(1, 5)])).toEqual({ gained: [], lost: [], moved: [] });
  });

  test('of one signature at the same time: moved where time or priority differ', () => {
    const pairs: [RehearsedAlert, RehearsedAlert][] = [
      [alert(1, 5), alert(3, 5)],
      [alert(10, 15), alert(10, null)],
      [alert(20, 25, { signature: 'water' }), alert(20, 25, { signature: 'water', priority: 'low' })],
    ];
    const { gained, lost, moved } = compareAlerts(
      pairs.map(([asIs]) => asIs),
      pairs.map(([, asChanged]) => asChanged),
    );
    expect([gained, lost]).toEqual([[], []]);
    expect(moved).toEqual(pairs.map(([asIs, asChanged]) => ({ asIs, asChanged })));
  });

  test('another signature, or another time, is another alert', () => {
    const asIs = [alert(1, 5), alert(10, 12)];
    const asChanged = [alert(1, 5, { signature: 'water' }), alert(13, 14)];
    expect(compareAlerts(asIs, asChanged)).toEqual({ gained: asChanged, lost: asIs, moved: [] });
  });

  test('one that stands and becomes three that come and go: two are gained', () => {
    const three = [alert(1, 3), alert(5, 7), alert(9, 11)];
    const { gained, lost, moved } = compareAlerts([alert(1, null)], three);
    expect(lost).toEqual([]);
    expect(moved).toEqual([{ asIs: alert(1, null), asChanged: three[0] }]);
    expect(gained).toEqual(three.slice(1));
  });
});
