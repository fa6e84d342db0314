import { describe, expect, test } from 'vitest';
import { faultsOf, minutesOf, recordFrom, typedFrom } from '../../../web/rationalisation/typedRecord.ts';
import { airRecord } from '../fixture/alarms.ts';

describe('a record as it is typed', () => {
  test('comes back as it was, whatever its time', () => {
    for (const timeToRespondMinutes of [10, 60, 90, 1440, 525_600]) {
      const record = { ...airRecord, timeToRespondMinutes, leastDecades: 0.2, onDelayScans: 5 };
      expect(recordFrom(typedFrom(record))).toEqual(record);
    }
  });

  test('hours and days are minutes; a decimal comma is one', () => {
    expect(minutesOf({ time: '1,5', timeUnit: 'h' })).toBe(90);
    expect(minutesOf({ time: '2', timeUnit: 'd' })).toBe(2880);
    expect(minutesOf({ time: '0', timeUnit: 'min' })).toBeNull();
  });

  test('what is missing or nonsense is told at its field, and nothing is sent', () => {
    const typed = {
      ...typedFrom(airRecord),
      causes: ' \n ',
      time: 'soon',
      armedStates: [],
      onDelayScans: '2.5',
      leastDecades: '-1',
    };
    expect(Object.keys(faultsOf(typed)).sort()).toEqual([
      'armedStates',
      'causes',
      'leastDecades',
      'onDelayScans',
      'time',
    ]);
    expect(recordFrom(typed)).toBeNull();
  });

  test('empty lines are no steps; empty numbers are as built in', () => {
    const record = recordFrom({ ...typedFrom(airRecord), responseSteps: 'one\n\n  two  \n', reAlarmHours: '' });
    expect(record).toMatchObject({ responseSteps: ['one', 'two'], reAlarmHours: null, leastDecades: null });
  });
});
