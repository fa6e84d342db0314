import { describe, expect, test } from 'vitest';
import { CATALOGUE_VERSION, GASES } from '../../../shared/catalogue/gases.ts';
import { catalogueFor, resolveGas } from '../../../shared/catalogue/select.ts';

const idsOf = (own: readonly string[]): string[] => catalogueFor(own).gases.map((gas) => gas.id);

describe('names of gases', () => {
  test.each([
    ['SF6', 'SF6'],
    ['sf6', 'SF6'],
    ['SF₆', 'SF6'],
    [' H2O ', 'H2O'],
    ['water', 'H2O'],
    ['isopropanol', 'isopropanol'],
    ['IPA', 'isopropanol'],
    ['2-propanol', 'isopropanol'],
    ['C3H8O', 'isopropanol'],
    ['C4F8', 'C4F8'],
    ['c-C4F8', 'C4F8'],
    ['octafluorocyclobutane', 'C4F8'],
    ['C2H6O', 'C2H5OH'],
    ['ethanol', 'C2H5OH'],
    ['CH4O', 'CH3OH'],
    ['TEOS', 'tetraethoxysilane'],
    ['PFPE', 'perfluoropolyether'],
    ['PDMS', 'silicone'],
    ['mineral oil', 'hydrocarbon-oil'],
    ['deuterium', 'D2'],
  ])('%s is %s', (written, id) => {
    expect(resolveGas(written)).toBe(id);
  });

  test.each(['', '28', 'unobtainium', 'C99', 'constructor', '__proto__'])('"%s" is nothing', (written) => {
    expect(resolveGas(written)).toBeNull();
  });

  test('an id wins over a formula that two gases share: C4H10 is n-butane, isobutane has its name', () => {
    expect(resolveGas('C4H10')).toBe('C4H10');
    expect(resolveGas('isobutane')).toBe('isobutane');
  });

  test('no spelling leads to two gases', () => {
    const owners = new Map<string, string>();
    for (const gas of GASES) {
      for (const spelling of new Set([gas.id, gas.name, ...gas.aliases].map((text) => text.toLowerCase()))) {
        expect(owners.get(spelling), `${spelling} of ${gas.id}`).toBeUndefined();
        owners.set(spelling, gas.id);
      }
    }
  });

  test('every id, name and alias resolves to its own gas', () => {
    for (const gas of GASES)
      for (const written of [gas.id, gas.name, ...gas.aliases]) expect(resolveGas(written), written).toBe(gas.id);
  });
});

describe('the gases of a chamber', () => {
  test('the default set holds what any chamber may see, by molar mass, mixtures last', () => {
    const ids = idsOf([]);
    expect(ids.slice(0, 5)).toEqual(['H2', 'He', 'CH4', 'NH3', 'H2O']);
    expect(ids.slice(-3)).toEqual(['hydrocarbon-oil', 'perfluoropolyether', 'silicone']);
    for (const id of ['CO', 'N2', 'O2', 'Ar', 'CO2', 'acetone', 'isopropanol']) expect(ids).toContain(id);
    for (const id of ['SF6', 'NF3', 'CF4', 'SiH4', 'WF6', 'HF']) expect(ids).not.toContain(id);
    const molarMasses = catalogueFor([]).gases.flatMap((gas) => gas.molarMassGramsPerMole?.value ?? []);
    expect(molarMasses).toEqual([...molarMasses].sort((a, b) => a - b));
  });

  test('own gases follow, each once, by molar mass, however they are written', () => {
    expect(idsOf(['wf6', 'SF6', 'N2', 'nitrogen', 'SF6', 'sulfur hexafluoride'])).toEqual([...idsOf([]), 'SF6', 'WF6']);
  });

  test('protected are the ten of every chamber and its own', () => {
    const ten = ['Ar', 'CH4', 'CO', 'CO2', 'H2', 'H2O', 'He', 'N2', 'NH3', 'O2'];
    expect([...catalogueFor([]).protectedIds].sort()).toEqual(ten);
    expect([...catalogueFor(['SF6', 'IPA']).protectedIds].sort()).toEqual([...ten, 'SF6', 'isopropanol'].sort());
  });

  test('an unknown name adds nothing', () => {
    expect(idsOf(['unobtainium'])).toEqual(idsOf([]));
  });

  test('the version in force goes with it', () => {
    expect(catalogueFor([]).version).toBe(CATALOGUE_VERSION);
  });
});
