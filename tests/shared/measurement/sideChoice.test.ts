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

  test('an alert that stands and no vent since: there is no after', () => {
    const found = choose(40, { raised: 15, ended: null });
    expect(hours(found.before)).toEqual([36, 40]);
    expect(found.after).toBeNull();
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
