/** Invented histories, told in hours; what must come out follows from the rule alone: same state, equal time since vent. */
import { describe, expect, test } from 'vitest';
import { chooseSides } from '../../../shared/measurement/sideChoice.ts';
import { type StateChange, sinceVent, stretchesOf, ventsOf } from '../../../shared/measurement/stretches.ts';

const HOUR = 3_600_000;
const at = (hour: number, state: string): StateChange => ({ atMs: hour * HOUR, state });
const hours = (span: { fromMs: number; toMs: number } | null) => span && [span.fromMs / HOUR, span.toMs / HOUR];

/** Vented, pumped from hour 2 on, base from 6; opened again at 50, pumped from 52 on, base from 56. */
const REPAIRED = [
  at(0, 'vented'),
  at(2, 'roughing'),
  at(3, 'pump-down'),
  at(6, 'base'),
  at(50, 'vented'),
  at(52, 'roughing'),
  at(53, 'pump-down'),
  at(56, 'base'),
];

describe('vents and the time since the last', () => {
  const stretches = stretchesOf(REPAIRED, 100 * HOUR);

  test('the time runs from the beginning of pumping', () => {
    expect(ventsOf(stretches).map(({ fromMs, pumpedMs }) => [fromMs / HOUR, pumpedMs / HOUR])).toEqual([
      [0, 2],
      [50, 52],
    ]);
    expect(sinceVent(stretches, 40 * HOUR)).toEqual({ seconds: 38 * 3600, atLeast: false });
    expect(sinceVent(stretches, 60 * HOUR)).toEqual({ seconds: 8 * 3600, atLeast: false });
  });

  test('nothing is known of an open chamber, nor of the time before the record', () => {
    expect(sinceVent(stretches, 51 * HOUR)).toBeNull();
    expect(sinceVent(stretches, -HOUR)).toBeNull();
  });

  test('without a vent on record it was so long ago at least', () => {
    const quiet = stretchesOf([at(0, 'base'), at(10, 'transfer'), at(11, 'base')], 100 * HOUR);
    expect(ventsOf(quiet)).toEqual([]);
    expect(sinceVent(quiet, 90 * HOUR)).toEqual({ seconds: 90 * 3600, atLeast: true });
  });

  test('a gateway that never says vented: pumping down out of base is a vent', () => {
    const silent = stretchesOf([at(0, 'base'), at(20, 'pump-down'), at(24, 'base')], 100 * HOUR);
    expect(ventsOf(silent)).toEqual([{ fromMs: 20 * HOUR, pumpedMs: 20 * HOUR }]);
  });

  test('a record that begins with the pumping begins with the vent', () => {
    const young = stretchesOf([at(5, 'pump-down'), at(8, 'base')], 100 * HOUR);
    expect(sinceVent(young, 30 * HOUR)).toEqual({ seconds: 25 * 3600, atLeast: false });
  });

  test('a state that is reported twice is one stretch', () => {
    expect(stretchesOf([at(0, 'base'), at(1, 'base'), at(2, 'bake')], 3 * HOUR)).toEqual([
      { state: 'base', fromMs: 0, toMs: 2 * HOUR },
      { state: 'bake', fromMs: 2 * HOUR, toMs: 3 * HOUR },
    ]);
  });
});

describe('which two times are compared', () => {
  const choose = (newest: number, alert: { raised: number; ended: number | null } | null, changes = REPAIRED) =>
    chooseSides({
      stretches: stretchesOf(changes, newest * HOUR),
      alert: alert && { raisedMs: alert.raised * HOUR, endedMs: alert.ended === null ? null : alert.ended * HOUR },
      newestMs: newest * HOUR,
    });

  test('as long after the vent as both have come: before is moved forward to where after is now', () => {
    // After is 20 h after its vent; before was that at hour 22, and the alert stood from hour 15 on.
    const found = choose(72, { raised: 15, ended: null });
    expect(found.state).toBe('base');
    expect(hours(found.before)).toEqual([18, 22]);
    expect(hours(found.after)).toEqual([68, 72]);
    expect(found.equalAtMs).toBeNull();
    expect([found.between?.fromMs, found.between?.pumpedMs]).toEqual([50 * HOUR, 52 * HOUR]);
  });

  test('also where nobody said vented: the first vent is the beginning of the record, the second the end of base', () => {
    const unsaid = [at(2, 'pump-down'), at(6, 'base'), at(52, 'pump-down'), at(56, 'base')];
    const found = choose(72, { raised: 15, ended: null }, unsaid);
    expect(hours(found.before)).toEqual([18, 22]);
    expect(hours(found.after)).toEqual([68, 72]);
    expect(found.equalAtMs).toBeNull();
  });

  test('when after has come farther than before ever did, after is taken earlier', () => {
    const found = choose(200, { raised: 15, ended: null });
    expect(hours(found.before)).toEqual([46, 50]);
    expect(hours(found.after)).toEqual([96, 100]);
  });

  test('while the alert began later after its vent than the repair is ago, it says when both will be equal', () => {
    const found = choose(60, { raised: 30, ended: null });
    expect(hours(found.before)).toEqual([46, 50]);
    expect(hours(found.after)).toEqual([56, 60]);
    // 32 h after the vent the fault had been there for four hours: 52 + 32.
    expect(found.equalAtMs).toBe(84 * HOUR);
  });

  test('both are cut to the shorter one', () => {
    const found = choose(57, { raised: 4, ended: null });
    // After has one hour of base, 4 to 5 h after its vent.
    expect(hours(found.after)).toEqual([56, 57]);
    expect(hours(found.before)).toEqual([6, 7]);
  });

  test('without a vent between: before and after the end of the alert', () => {
    const found = choose(40, { raised: 15, ended: 25 });
    expect(found.between).toBeNull();
    expect(hours(found.before)).toEqual([21, 25]);
    expect(hours(found.after)).toEqual([36, 40]);
  });

  test('an alert that stands and no vent since: the last quiet time before it, and the newest', () => {
    const found = choose(40, { raised: 15, ended: null });
    expect([found.purpose, found.state]).toEqual(['since alert', 'base']);
    // The two hours that the slowest condition lasts before it is called are no quiet time.
    expect(hours(found.before)).toEqual([13 - 3.25, 13]);
    expect(hours(found.after)).toEqual([40 - 50 / 60, 40]);
    expect([found.between, found.equalAtMs]).toEqual([null, null]);
  });

  test('once it was opened, or the condition has gone, it is a repair as ever', () => {
    expect(choose(72, { raised: 15, ended: null }).purpose).toBe('repair');
    expect(choose(40, { raised: 15, ended: 25 }).purpose).toBe('repair');
    expect(choose(40, null).purpose).toBe('repair');
  });

  test('no alert: around the last vent; no vent either: nothing', () => {
    expect(hours(choose(72, null).before)).toEqual([18, 22]);
    const quiet = choose(72, null, [at(0, 'base')]);
    expect(quiet.after).toBeNull();
    expect(quiet.between).toBeNull();
  });

  test('the state that both have most of, never one of a calibration or a vent', () => {
    const cut = [...REPAIRED.slice(0, 4), at(20, 'calibration'), at(49, 'gas-on'), ...REPAIRED.slice(4)];
    expect(choose(90, { raised: 15, ended: null }, cut).state).toBe('base');
    expect(choose(40, { raised: 15, ended: null }, []).state).toBeNull();
  });
});

describe('what a standing alert has changed', () => {
  const since = (raised: number, newest: number, changes: StateChange[], loud: readonly [number, number][] = []) =>
    chooseSides({
      stretches: stretchesOf(changes, newest * HOUR),
      alert: { raisedMs: raised * HOUR, endedMs: null },
      newestMs: newest * HOUR,
      loud: loud.map(([from, to]) => ({ fromMs: from * HOUR, toMs: to * HOUR })),
    });
  const BASE = [at(0, 'base')];

  test('a time in which another alert stood is not quiet', () => {
    expect(hours(since(20, 30, BASE, [[17, 19]]).before)).toEqual([17 - 3.25, 17]);
    expect(hours(since(20, 30, BASE, [[10, 16]]).before)).toEqual([16, 18]);
    // An older one that stands as well: before it, too.
    expect(hours(since(20, 30, BASE, [[12, 30]]).before)).toEqual([12 - 3.25, 12]);
  });

  test('the state in which it was called, though another one lasted longer', () => {
    const cycles = [at(0, 'base'), at(14, 'gas-on'), at(15, 'base'), at(19.5, 'gas-on'), at(21, 'base')];
    const found = since(20, 30, cycles);
    expect(found.state).toBe('gas-on');
    expect(hours(found.before)).toEqual([14, 15]);
    expect(hours(found.after)).toEqual([21 - 50 / 60, 21]);
  });

  test('a state in which nothing is measured twice alike is not taken', () => {
    const found = since(20, 30, [at(0, 'base'), at(19.5, 'leak-check'), at(21, 'base')]);
    expect(found.state).toBe('base');
    expect(hours(found.before)).toEqual([18 - 3.25, 18]);
  });

  test('called soon after a vent: the quiet time lies before it, and the vent between is told', () => {
    const found = since(60, 70, REPAIRED);
    expect(hours(found.before)).toEqual([56, 58]);
    const sooner = since(57, 70, REPAIRED);
    expect(hours(sooner.before)).toEqual([50 - 3.25, 50]);
    expect(sooner.between).toEqual({ fromMs: 50 * HOUR, pumpedMs: 52 * HOUR });
  });

  test('where scans are seldom both last longer, so that a line has scans enough, up to four hours', () => {
    const lengths = (scanSeconds: number | null) => {
      const { before, after } = chooseSides({
        stretches: stretchesOf(BASE, 60 * HOUR),
        alert: { raisedMs: 50 * HOUR, endedMs: null },
        newestMs: 60 * HOUR,
        scanSeconds,
      });
      return [after, before].map((span) => ((span?.toMs ?? 0) - (span?.fromMs ?? 0)) / 60_000);
    };
    expect(lengths(null)).toEqual([50, 195]);
    expect(lengths(30)).toEqual([50, 195]);
    // A scan every four minutes: 48 of them in 192 minutes, and 3.9 times as long before.
    expect(lengths(240)[0]).toBeCloseTo(192, 6);
    expect(lengths(240)[1]).toBeCloseTo(3.9 * 192, 6);
    expect(lengths(3600)[0]).toBe(240);
  });

  test('a record younger than the slowest condition: the shorter delay; younger than that: no before', () => {
    expect(hours(since(1, 3, BASE).before)).toEqual([0, 1 - 10 / 60]);
    const young = since(0.1, 3, BASE);
    expect(young.before).toBeNull();
    expect(hours(young.after)).toEqual([3 - 50 / 60, 3]);
  });
});
