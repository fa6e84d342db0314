import { describe, expect, test } from 'vitest';
import { AIR_FRACTIONS, AIR_RATIOS, AIR_SOURCE } from '../../../shared/catalogue/air.ts';
import { catalogueFor } from '../../../shared/catalogue/select.ts';
import { SOURCES } from '../../../shared/catalogue/sources.ts';

describe('air', () => {
  test('the fractions are positive, leave less than 0.1 % to all other gases, and have a source', () => {
    const sum = Object.values(AIR_FRACTIONS).reduce((a, b) => a + b, 0);
    expect(sum).toBeLessThan(1);
    expect(sum).toBeGreaterThan(0.999);
    expect(SOURCES).toHaveProperty([AIR_SOURCE]);
  });

  test('what proves an air leak stays in every fit', () => {
    for (const id of Object.keys(AIR_FRACTIONS)) expect(catalogueFor([]).protectedIds).toContain(id);
  });

  test('the ratios follow from the fractions', () => {
    expect(AIR_RATIOS.nitrogenToOxygen * AIR_FRACTIONS.O2).toBeCloseTo(AIR_FRACTIONS.N2, 12);
    expect(AIR_RATIOS.argonToNitrogen * AIR_FRACTIONS.N2).toBeCloseTo(AIR_FRACTIONS.Ar, 12);
  });
});
