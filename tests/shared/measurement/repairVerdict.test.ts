/** The rule is the house's own: a yes needs equal state and time since vent, a usual range, and a fault that stood out. */
import { describe, expect, test } from 'vitest';
import type { GasSide } from '../../../shared/measurement/gasSide.ts';
import { likenesses, type SideFacts } from '../../../shared/measurement/likeness.ts';
import { type RepairQuestion, repairVerdict } from '../../../shared/measurement/repairVerdict.ts';
import { isBack, judged, placeOf } from '../../../shared/measurement/usualPlace.ts';

const DAY = 86_400;
const facts = (changed: Partial<SideFacts> = {}): SideFacts => ({
  state: 'base',
  sinceVent: { seconds: 3 * DAY, atLeast: false },
  temperatureC: 22,
  analyser: 'a',
  calibrations: ['a/1, 2026.11'],
  scans: 240,
  ...changed,
});

describe('like with like', () => {
  const is = (before: Partial<SideFacts>, after: Partial<SideFacts> = {}) => likenesses(facts(before), facts(after));

  test('all alike', () => {
    expect(new Set(Object.values(is({})))).toEqual(new Set(['alike']));
  });

  test.each([
    ['state', { state: 'gas-on' }, 'differs'],
    ['state', { state: null }, 'unknown'],
    ['time since vent', { sinceVent: { seconds: 3.5 * DAY, atLeast: false } }, 'alike'],
    ['time since vent', { sinceVent: { seconds: 4 * DAY, atLeast: false } }, 'differs'],
    ['time since vent', { sinceVent: { seconds: 3 * DAY, atLeast: true } }, 'differs'],
    ['time since vent', { sinceVent: null }, 'unknown'],
    ['temperature', { temperatureC: 24.9 }, 'alike'],
    ['temperature', { temperatureC: 25.5 }, 'differs'],
    ['temperature', { temperatureC: null }, 'unknown'],
    ['analyser and calibration', { analyser: 'b' }, 'differs'],
    ['analyser and calibration', { calibrations: ['a/2, 2026.11'] }, 'differs'],
    ['scans', { scans: 61 }, 'alike'],
    ['scans', { scans: 59 }, 'differs'],
    ['scans', { scans: 9 }, 'differs'],
  ] as const)('%s with %o: %s', (name, changed, expected) => {
    expect(is(changed as Partial<SideFacts>)[name]).toBe(expected);
  });

  test('without a vent on record the two are alike when the record is long, and unknown when it is short', () => {
    const since = (days: number) => ({ sinceVent: { seconds: days * DAY, atLeast: true } });
    expect(is(since(40), since(44))['time since vent']).toBe('alike');
    expect(is(since(1), since(4))['time since vent']).toBe('unknown');
  });
});

const side = (ln: number | null, limitPa: number | null = null): GasSide => ({
  scans: 100,
  detectedShare: ln === null ? 0 : 1,
  mean: ln === null ? null : { ln, sigma: 0.01, effective: 50, degrees: 49 },
  course: 'level',
  atMs: null,
  growth: null,
  limitPa,
  lasting: 0.1,
  pattern: 0.02,
  catalogue: 0,
});

describe('where a gas lies against its usual range', () => {
  const usual = { lowLn: -20, highLn: -19 };

  test.each([
    [side(-19.5), 'inside'],
    [side(-18.5), 'above'],
    [side(-21), 'below'],
    [side(-19.005), 'unclear'],
    [side(-18.995), 'unclear'],
    [side(null, Math.exp(-19.5)), 'not seen'],
    [side(null, Math.exp(-18)), 'unclear'],
    [side(null), 'unclear'],
    [null, 'not looked for'],
  ] as const)('%#: %s', (one, place) => {
    expect(placeOf(one, usual)).toBe(place);
  });

  test('without a usual range nothing is said, but that it is not seen', () => {
    expect(placeOf(side(-19), null)).toBe('no usual range');
    expect(placeOf(side(null, 1e-11), null)).toBe('not seen');
  });

  test.each([
    ['above', 'inside', 'back'],
    ['above', 'not seen', 'below detection again'],
    ['above', 'above', 'still above'],
    ['inside', 'above', 'above now'],
    ['inside', 'inside', 'as usual'],
    ['not seen', 'not seen', 'not seen'],
    ['above', 'unclear', 'at the edge'],
    ['above', 'below', 'below usual'],
  ] as const)('%s, then %s: %s', (before, after, judgement) => {
    expect(judged(before, after)).toBe(judgement);
  });

  test('back is in the range, under it, or no longer seen', () => {
    expect((['inside', 'below', 'not seen', 'above', 'unclear'] as const).filter(isBack)).toEqual([
      'inside',
      'below',
      'not seen',
    ]);
  });
});

describe('did the repair work', () => {
  const ask = (changed: Partial<RepairQuestion> = {}) =>
    repairVerdict({
      gases: [
        { gas: 'N2', before: 'above', after: 'inside' },
        { gas: 'O2', before: 'above', after: 'not seen' },
      ],
      scans: { before: 240, after: 240 },
      likeness: likenesses(facts(), facts()),
      measure: 'same',
      usualIsOlder: true,
      noRepairYet: false,
      ...changed,
    });
  const what = (changed: Partial<RepairQuestion>) => ask(changed).missing.map(({ what: one }) => one);
  const gases = (after: 'inside' | 'above' | 'unclear', before: 'above' | 'inside' = 'above') => [
    { gas: 'N2', before, after },
    { gas: 'Ar', before, after: 'above' as const },
  ];

  test('yes, when every gas of the alert is back', () => {
    expect(ask()).toEqual({ word: 'worked', back: ['N2', 'O2'], notBack: [], missing: [] });
  });

  test('nothing was opened since: however it lies, no repair is proved', () => {
    expect(ask({ noRepairYet: true })).toEqual({ word: 'still stands', back: ['N2', 'O2'], notBack: [], missing: [] });
    expect(ask({ noRepairYet: true, gases: gases('above') }).word).toBe('still stands');
    expect(ask({ noRepairYet: true, scans: { before: 4, after: 60 } })).toMatchObject({
      word: 'still stands',
      missing: [{ what: 'few scans before' }],
    });
    expect(ask({ noRepairYet: true, scans: { before: 0, after: 60 } })).toMatchObject({
      word: 'cannot tell',
      missing: [{ what: 'no scans before' }],
    });
  });

  test('in part, and no', () => {
    expect(ask({ gases: gases('inside') })).toMatchObject({ word: 'in part', back: ['N2'], notBack: ['Ar'] });
    expect(ask({ gases: gases('above') })).toMatchObject({ word: 'did not work', notBack: ['N2', 'Ar'] });
  });

  test('never a yes while something is missing', () => {
    const unlike = (before: Partial<SideFacts>) => ({ likeness: likenesses(facts(before), facts()) });
    expect(what(unlike({ state: 'gas-on' }))).toEqual(['other state']);
    expect(what(unlike({ sinceVent: { seconds: 9 * DAY, atLeast: false } }))).toEqual(['other time since vent']);
    expect(what(unlike({ sinceVent: null }))).toEqual(['time since vent not known']);
    expect(what({ measure: 'other analyser' })).toEqual(['other analyser']);
    expect(what({ usualIsOlder: false })).toEqual(['usual range is younger']);
    expect(what({ scans: { before: 240, after: 0 } })).toEqual(['no scans after']);
    expect(what({ scans: { before: 4, after: 240 } })).toEqual(['few scans before']);
    expect(what({ gases: [] })).toEqual(['alert without gases']);
    expect(what({ gases: gases('unclear') })).toEqual(['at the edge']);
    expect(what({ gases: [{ gas: 'N2', before: 'not looked for', after: 'inside' }] })).toEqual(['gas not looked for']);
    expect(what({ gases: [{ gas: 'N2', before: 'no usual range', after: 'no usual range' }] })).toEqual([
      'no usual range',
    ]);
    for (const measure of ['other analyser'] as const) expect(ask({ measure }).word).toBe('cannot tell');
  });

  test('a gas that did not stand out before proves nothing', () => {
    expect(what({ gases: [{ gas: 'N2', before: 'inside', after: 'inside' }] })).toEqual(['was usual before']);
  });

  test('a warmer hall or another calibration is said, and does not forbid an answer', () => {
    const likeness = likenesses(facts({ temperatureC: 30, calibrations: ['a/2'] }), facts());
    expect(ask({ likeness, measure: 'other calibration' }).word).toBe('worked');
  });

  test('no alert: nothing is said of a repair', () => {
    expect(ask({ gases: null })).toMatchObject({ word: 'no alert', back: [], notBack: [] });
  });
});
