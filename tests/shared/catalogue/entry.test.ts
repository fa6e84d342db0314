import { describe, expect, test } from 'vitest';
import { gas } from '../../../shared/catalogue/entry.ts';

const toy = {
  id: 'toy',
  name: 'a toy',
  formula: 'X',
  aliases: [],
  kind: 'gas',
  molarMassGramsPerMole: null,
  records: [
    { energyElectronVolt: 70, lowMassCutoff: 0, peaks: { 10: 25, 20: 100, 250: 7 }, source: 'nistWebBook' },
    { energyElectronVolt: 70, lowMassCutoff: 15, peaks: { 20: 100 }, source: 'literatureRemembered' },
  ],
  relativeSensitivity: { value: 1, low: 1, high: 1, quality: 'none', source: 'fourRepeatUnits' },
  organic: false,
  hazards: [],
} as const;

describe('the sum of an entry', () => {
  test('is that of the primary record, above 200 too', () => {
    expect(gas(toy).primarySum).toBe(132);
  });

  test('counts what lies between whole masses, and does not keep it as a field', () => {
    const entry = gas({ ...toy, betweenMasses: 3 });
    expect(entry.primarySum).toBe(135);
    expect(entry).not.toHaveProperty('betweenMasses');
  });
});
