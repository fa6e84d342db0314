/** The table of strokes as the look has it (LOOK.md, "Gases"): slot and dash of each gas, hosts and guests. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { GASES } from '../../../shared/catalogue/gases.ts';
import { drawable, MOST_LINES, rivalOf, type Slot, strokeOf } from '../../../web/charts/strokes.ts';

const TABLE: readonly (readonly [string, Slot, string])[] = [
  ['H2', 'h2', ''],
  ['He', 'h2', '1 3'],
  ['D2', 'h2', '6 2'],
  ['H2O', 'h2o', ''],
  ['NH3', 'h2o', '6 2'],
  ['HF', 'h2o', '1 3'],
  ['CO', 'co', '7 3'],
  ['Ne', 'co', '1 3'],
  ['Kr', 'co', '12 3'],
  ['Xe', 'co', '12 3'],
  ['N2', 'n2', ''],
  ['NF3', 'n2', '6 2'],
  ['SF6', 'n2', '6 2'],
  ['CF4', 'n2', '6 2'],
  ['perfluoropolyether', 'n2', '1 3'],
  ['O2', 'o2', '9 2 2 2'],
  ['N2O', 'o2', '1 3'],
  ['NO', 'o2', '1 3'],
  ['Cl2', 'o2', '6 2'],
  ['HCl', 'o2', '6 2'],
  ['HBr', 'o2', '6 2'],
  ['Ar', 'ar', '5 2'],
  ['CO2', 'co2', '2 2'],
  ['SO2', 'co2', '12 3'],
  ['H2S', 'co2', '12 3'],
  ['hydrocarbon-oil', 'oil', '11 3'],
  ['CH4', 'oil', '4 2'],
  ['C2H4', 'oil', '4 2'],
  ['C2H6', 'oil', '4 2'],
  ['C3H8', 'oil', '4 2'],
  ['silicone', 'oil', '1 3'],
];

describe('strokes', () => {
  test.each(TABLE)('%s', (gas, slot, dash) => {
    expect(strokeOf(gas)).toEqual({ slot, dash });
  });

  test('two gases of one slot never have the same dash when both are named in the table', () => {
    const byStroke = new Map<string, string[]>();
    // Kin share a guest's dash: fluorinated gases, halogens, noble gases of the clay slot, light hydrocarbons …
    const kin = [/^(NF3|SF6|CF4)$/, /^(Cl2|HCl|HBr)$/, /^(Kr|Xe)$/, /^(N2O|NO)$/, /^(SO2|H2S)$/, /^C(H4|2H4|2H6|3H8)$/];
    for (const [gas, slot, dash] of TABLE) {
      const key = `${slot} ${dash}`;
      byStroke.set(key, [...(byStroke.get(key) ?? []), gas]);
    }
    for (const gases of byStroke.values())
      expect(gases.length === 1 || kin.some((family) => gases.every((gas) => family.test(gas)))).toBe(true);
  });

  const some = fc.subarray(GASES.map(({ id }) => id)).chain((gases) => fc.shuffledSubarray(gases));
  test('whatever is chosen: at most eight lines, never two of one slot, the first of each slot stays', () => {
    fc.assert(
      fc.property(some, (gases) => {
        const drawn = drawable(gases);
        expect(drawn.length).toBeLessThanOrEqual(MOST_LINES);
        expect(new Set(drawn.map((gas) => strokeOf(gas).slot)).size).toBe(drawn.length);
        for (const gas of gases) {
          const first = gases.find((other) => strokeOf(other).slot === strokeOf(gas).slot);
          expect(drawn.includes(gas)).toBe(gas === first);
        }
      }),
    );
  });

  test('a second gas of a slot names the one that holds it; a free slot names nobody', () => {
    fc.assert(
      fc.property(some, fc.constantFrom(...GASES.map(({ id }) => id)), (gases, gas) => {
        const drawn = drawable(gases);
        const rival = rivalOf(gas, drawn);
        if (drawn.includes(gas)) expect(rival).toBeNull();
        else {
          const holder = drawn.find((other) => strokeOf(other).slot === strokeOf(gas).slot) ?? null;
          expect(rival).toBe(holder);
        }
      }),
    );
  });
});
