/** Dry air, as the watch expects it when a chamber leaks. */
import type { GasId } from './gases.ts';
import type { SourceId } from './sources.ts';

/**
 * Mole fractions of the three gases of dry air that prove a leak. Water and CO2 vary too much near people and on walls;
 * neon and helium are too rare. The rest of air is below 0.05 %.
 */
export const AIR_FRACTIONS = { N2: 0.78084, O2: 0.20946, Ar: 0.00934 } as const satisfies Partial<
  Record<GasId, number>
>;

/** Where the mole fractions are from. */
export const AIR_SOURCE: SourceId = 'iupacPureAir';

/** Mole ratios of air that enters without being separated. */
export const AIR_RATIOS = {
  nitrogenToOxygen: AIR_FRACTIONS.N2 / AIR_FRACTIONS.O2,
  argonToNitrogen: AIR_FRACTIONS.Ar / AIR_FRACTIONS.N2,
} as const;
