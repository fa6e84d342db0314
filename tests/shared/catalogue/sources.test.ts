import { describe, expect, test } from 'vitest';
import { AIR_SOURCE } from '../../../shared/catalogue/air.ts';
import { GASES } from '../../../shared/catalogue/gases.ts';
import { SOURCES } from '../../../shared/catalogue/sources.ts';

const entries = Object.entries(SOURCES);

describe('sources', () => {
  test.each(entries)('%s can be found again', (_id, { kind, ref }) => {
    expect(ref.length).toBeGreaterThan(25);
    if (kind === 'published') expect(ref).toMatch(/\d{4}|SRD \d+|JP\d{6}|NL\d{4}/);
    if (kind === 'from memory') expect(ref).toMatch(/as remembered/);
  });

  test('no source is kept that no number names', () => {
    const named = new Set<string>([AIR_SOURCE]);
    for (const gas of GASES) {
      for (const record of gas.records) named.add(record.source);
      named.add(gas.relativeSensitivity.source);
      if (gas.unlisted) named.add(gas.unlisted.source);
      if (gas.molarMassGramsPerMole !== null) named.add(gas.molarMassGramsPerMole.source);
    }
    expect(entries.map(([id]) => id).filter((id) => !named.has(id))).toEqual([]);
  });

  test('no reference is written twice', () => {
    expect(new Set(entries.map(([, { ref }]) => ref)).size).toBe(entries.length);
  });

  test('a record from memory is admitted as one: the gases of air, walls and oil do not rest on memory', () => {
    const resting = GASES.filter((gas) => SOURCES[gas.records[0].source].kind === 'from memory').map((gas) => gas.id);
    for (const id of ['H2', 'He', 'CH4', 'NH3', 'H2O', 'CO', 'N2', 'O2', 'Ar', 'CO2', 'hydrocarbon-oil'])
      expect(resting).not.toContain(id);
  });
});
