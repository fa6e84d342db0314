import { describe, expect, test } from 'vitest';
import { RationalisationRecord } from '../../../shared/contract/rationalisation.ts';
import { changedFields, FIELDS, fieldText, recordsSentence } from '../../../web/rationalisation/recordWords.ts';
import { airRecord, records } from '../fixture/alarms.ts';

describe('records in words', () => {
  test('every field of the contract is told', () => {
    expect([...FIELDS].sort()).toEqual(Object.keys(RationalisationRecord.properties).sort());
    for (const field of FIELDS) expect(fieldText(airRecord, field).length).toBeGreaterThan(0);
  });

  test('what changed, before and after', () => {
    const changes = changedFields(airRecord, { ...airRecord, timeToRespondMinutes: 20, latching: true });
    expect(changes.map(({ field, before, after }) => [field, before, after])).toEqual([
      ['timeToRespondMinutes', '10\u00a0min', '20\u00a0min'],
      ['latching', 'ends by itself when the condition returns', 'stays until a person resets it'],
    ]);
    expect(changedFields(airRecord, { ...airRecord })).toEqual([]);
  });

  test('the head says how many are the site’s own', () => {
    expect(recordsSentence(records(0), '')).toBe(
      '24 kinds of alert, each with what it asks for. The site has written one of them anew.',
    );
    expect(recordsSentence([], 'etch')).toMatch(/has changed none of them for the kind etch yet/);
  });
});
