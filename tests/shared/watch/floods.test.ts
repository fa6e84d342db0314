/** The bounds of a flood, more than 10 in 10 minutes to begin and fewer than 5 to end: ISA-18.2; 10 in the first ten minutes: HSE CHIS6. */
import { describe, expect, test } from 'vitest';
import { type Call, FLOOD_WINDOW_MS, floods } from '../../../shared/watch/floods.ts';

const T0 = Date.UTC(2031, 2, 4, 6);
const at = (seconds: number, i = seconds): Call => ({
  alert: `a${i}`,
  chamber: `c${i % 6}`,
  priority: i === 3 ? 'high' : 'low',
  atMs: T0 + seconds * 1000,
  open: i % 2 === 0,
});
const every = (seconds: number, count: number, from = 0) =>
  Array.from({ length: count }, (_, i) => at(from + i * seconds, i));

describe('a flood', () => {
  test('begins with the eleventh call in ten minutes, not with the tenth', () => {
    expect(floods(every(50, 10))).toEqual([]);
    expect(floods(every(50, 11))).toHaveLength(1);
    // Eleven calls of which the first has left the window.
    expect(floods(every(60, 11))).toEqual([]);
  });

  test('counts from the first call of its ten minutes, and ends when fewer than five are left in the window', () => {
    const [flood] = floods(every(50, 11));
    expect(flood).toMatchObject({
      id: `flood-${T0.toString(36)}`,
      kind: 'flood',
      fromMs: T0,
      priority: 'high',
      open: 6,
    });
    // The fifth from the end came at 300 s, and leaves the window ten minutes later.
    expect(flood?.toMs).toBe(T0 + 300_000 + FLOOD_WINDOW_MS);
    expect(flood?.chambers).toHaveLength(6);
    expect(flood?.summary).toContain('11 calls');
  });

  test('goes on while calls come, and one that comes after its end begins anew', () => {
    const calls = [...every(30, 40), ...every(30, 12, 7200).map((call) => ({ ...call, alert: `b${call.alert}` }))];
    expect(floods(calls).map(({ fromMs, alerts }) => [fromMs, alerts.length])).toEqual([
      [T0, 40],
      [T0 + 7_200_000, 12],
    ]);
    expect(floods([...calls].reverse())).toEqual(floods(calls));
  });

  test('an alert that calls again and again is named once', () => {
    const again = Array.from({ length: 15 }, (_, i) => ({ ...at(i * 20), alert: 'same', chamber: 'c1' }));
    expect(floods(again)[0]).toMatchObject({ alerts: ['same'], chambers: ['c1'] });
    expect(floods(again)[0]?.summary).toMatch(/15 calls .* 1 chamber,/);
  });

  test('nothing: no flood', () => {
    expect(floods([])).toEqual([]);
  });
});
