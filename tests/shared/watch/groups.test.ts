/** Alerts told once. Scenes are invented; what must be grouped is known by how they are made. */
import { describe, expect, test } from 'vitest';
import type { Signature } from '../../../shared/contract/words.ts';
import {
  type GroupedAlert,
  type GroupedChamber,
  groupOfAlerts,
  LONGEST_CLUSTER_MS,
  sharedCauses,
  TOGETHER_MS,
} from '../../../shared/watch/groups.ts';
import { seeded } from '../../support/strangers.ts';

const T0 = Date.UTC(2031, 2, 4, 6);
const MINUTE = 60_000;
/** Twelve chambers of the west hall, four of them on one foreline; three more in the east hall. */
const fleet: GroupedChamber[] = [
  ...Array.from({ length: 12 }, (_, i) => ({
    id: `w${i}`,
    area: 'West hall',
    tags: i < 4 ? ['foreline 2', 'uhv'] : ['uhv'],
    periodSeconds: 60,
  })),
  ...[0, 1, 2].map((i) => ({ id: `e${i}`, area: 'East hall', tags: ['uhv'], periodSeconds: 60 })),
];
const alert = (chamber: string, minute: number, signature: Signature = 'water', more: Partial<GroupedAlert> = {}) => ({
  id: `${chamber}-${signature}-${minute}`,
  chamber,
  signature,
  priority: 'low' as const,
  raisedAtMs: T0 + minute * MINUTE,
  open: true,
  ...more,
});
const members = (alerts: readonly GroupedAlert[], chambers = fleet) =>
  sharedCauses(alerts, chambers).map(({ chambers: own }) => [...own].sort().join(' '));

describe('a shared cause', () => {
  test('three chambers of one hall within a quarter of an hour are one group, two are not', () => {
    expect(members([alert('w5', 0), alert('w6', 5), alert('w7', 9)])).toEqual(['w5 w6 w7']);
    expect(members([alert('w5', 0), alert('w6', 5)])).toEqual([]);
    expect(members([alert('w5', 0), alert('w6', 5), alert('w6', 6, 'hydrogen')])).toEqual([]);
  });

  test('says how many, what, how quickly, what they share, and where to look first', () => {
    const [group] = sharedCauses(
      [alert('w0', 0), alert('w1', 4), alert('w2', 12, 'water', { priority: 'high', open: false }), alert('w3', 7)],
      fleet,
    );
    expect(group).toMatchObject({
      id: 'shared-w0-water-0',
      kind: 'shared cause',
      signature: 'water',
      priority: 'high',
      fromMs: T0,
      toMs: T0 + 12 * MINUTE,
      shared: ['foreline 2', 'West hall', 'uhv'],
      alerts: ['w0-water-0', 'w1-water-4', 'w3-water-7', 'w2-water-12'],
      open: 3,
      summary:
        '4 chambers, one cause by the look of it: water has risen, within 12\u00a0minutes. They share foreline 2, West hall and uhv.',
    });
    expect(group?.firstStep).toMatch(/^First look for what they share: foreline 2, West hall and uhv; the temperature/);
  });

  test('what one load gives comes under several names', () => {
    const [group] = sharedCauses([alert('w0', 0), alert('w1', 1, 'hydrogen'), alert('w2', 2, 'pumping-loss')], fleet);
    expect(group).toMatchObject({ signature: null, chambers: ['w0', 'w1', 'w2'] });
    expect(members([alert('w0', 0), alert('w1', 1, 'hydrogen'), alert('w2', 2, 'methane')])).toEqual([]);
  });

  test('a network that is down is one call', () => {
    const [group] = sharedCauses(
      ['w4', 'w5', 'w6'].map((id) => alert(id, 0, 'silent')),
      fleet,
    );
    expect(group).toMatchObject({ signature: 'silent', summary: expect.stringContaining('at the same time') });
    expect(group?.firstStep).toContain('the network, the gateway and the power');
  });

  test('grows by chaining, each within the window of the last, and is cut after a shift', () => {
    const minutes = TOGETHER_MS / MINUTE;
    expect(members([0, 1, 2, 3].map((i) => alert(`w${i + 4}`, i * minutes)))).toEqual(['w4 w5 w6 w7']);
    expect(members([0, 1, 2, 3].map((i) => alert(`w${i + 4}`, i * (minutes + 1))))).toEqual([]);
    const long = Array.from({ length: 80 }, (_, i) => alert(`w${i % 12}`, i * 14, 'water'));
    for (const group of sharedCauses(long, fleet))
      expect(group.toMs - group.fromMs).toBeLessThanOrEqual(LONGEST_CLUSTER_MS);
  });

  test('where scans are rare the window is three of their periods', () => {
    const slow = fleet.map((chamber) => ({ ...chamber, periodSeconds: 1200 }));
    const alerts = [alert('w5', 0), alert('w6', 55), alert('w7', 110)];
    expect(members(alerts)).toEqual([]);
    expect(members(alerts, slow)).toEqual(['w5 w6 w7']);
  });

  test('chambers that share nothing are not grouped', () => {
    const apart = ['a', 'b', 'c', 'd'].map((id) => ({
      id,
      area: `Hall ${id}`,
      tags: [`line ${id}`],
      periodSeconds: 60,
    }));
    expect(
      members(
        apart.map(({ id }) => alert(id, 0)),
        apart,
      ),
    ).toEqual([]);
  });

  test('what most chambers of a place show says more than what some of a larger one do', () => {
    // All four on the foreline, and by chance one more of the hall at the end of the chain.
    const [group, ...more] = sharedCauses(
      [0, 1, 2, 3, 8].map((i) => alert(`w${i}`, i)),
      fleet,
    );
    expect(group?.chambers).toEqual(['w0', 'w1', 'w2', 'w3']);
    expect(group?.shared[0]).toBe('foreline 2');
    expect(more).toEqual([]);
    // Ten of the hall: it is the hall.
    const hall = sharedCauses(
      Array.from({ length: 10 }, (_, i) => alert(`w${i}`, i)),
      fleet,
    );
    expect(hall.map(({ chambers, shared }) => [chambers.length, shared[0]])).toEqual([[10, 'West hall']]);
  });
});

describe('whatever is raised', () => {
  const random = seeded(41);
  const among = <T>(list: readonly T[]): T => list[Math.floor(random.uniform() * list.length)] as T;
  const scene = () =>
    Array.from({ length: 120 }, (_, i) =>
      alert(among(fleet).id, Math.floor(random.uniform() * 600), among(['water', 'hydrogen', 'air-leak', 'silent']), {
        id: `a${i}`,
        open: random.uniform() < 0.5,
      }),
    );

  test('each alert is in one group at most; every group shares a place, holds three chambers and an unbroken chain', () => {
    for (let run = 0; run < 40; run++) {
      const alerts = scene();
      const at = new Map(alerts.map((one) => [one.id, one]));
      const groups = sharedCauses(alerts, fleet);
      const all = groups.flatMap((group) => group.alerts);
      expect(new Set(all).size).toBe(all.length);
      expect(groupOfAlerts(groups).size).toBe(all.length);
      for (const group of groups) {
        const own = group.alerts.map((id) => at.get(id) as GroupedAlert);
        expect(new Set(own.map(({ chamber }) => chamber)).size).toBeGreaterThanOrEqual(3);
        expect(group.shared.length).toBeGreaterThan(0);
        for (const name of group.shared)
          for (const { chamber } of own) {
            const { area, tags } = fleet.find(({ id }) => id === chamber) as GroupedChamber;
            expect([area, ...tags]).toContain(name);
          }
        expect(group.open).toBe(own.filter(({ open }) => open).length);
      }
    }
  });

  test('the order in which alerts and chambers are handed over changes nothing', () => {
    const alerts = scene();
    const other = sharedCauses([...alerts].reverse(), [...fleet].reverse());
    expect(other).toEqual(sharedCauses(alerts, fleet));
    expect(other.length).toBeGreaterThan(3);
  });

  test('an alert that joins later leaves the id as it was', () => {
    const before = [alert('w5', 0), alert('w6', 5), alert('w7', 9)];
    const ids = (alerts: GroupedAlert[]) => sharedCauses(alerts, fleet).map(({ id }) => id);
    expect(ids([...before, alert('w8', 12), alert('e0', 13)])).toEqual(ids(before));
  });
});
