import { MOLAR_MASS_GRAMS, type WorldGas } from './gases.ts';

/** Molar gas constant, J/(mol K): exact in the SI of 2019. */
export const GAS_CONSTANT = 8.314462618;
export const ZERO_CELSIUS_KELVIN = 273.15;

/**
 * Conductance of a thin opening in molecular flow, litres per second.
 *
 * Kinetic theory: a quarter of the mean speed times the area, with mean speed √(8RT/πM).
 * For N2 at 293.15 K that is 11.77 l/s for each square centimetre.
 */
export function openingConductance(gas: WorldGas, areaCm2: number, kelvin: number): number {
  const kilogramsPerMol = MOLAR_MASS_GRAMS[gas] / 1000;
  const meanSpeedMetresPerSecond = Math.sqrt((8 * GAS_CONSTANT * kelvin) / (Math.PI * kilogramsPerMol));
  const litresPerSecondPerCm2 = (meanSpeedMetresPerSecond / 4) * 1e-4 * 1000;
  return litresPerSecondPerCm2 * areaCm2;
}

/** A pump behind an opening: 1/S = 1/pump + 1/opening. Nothing pumps when either is closed. */
export const inSeries = (first: number, second: number): number =>
  first > 0 && second > 0 ? 1 / (1 / first + 1 / second) : 0;

/** How much faster a wall gives off its gas at `celsius` than at `referenceCelsius`, for a desorption energy (Arrhenius). */
export function arrheniusFactor(kilojoulesPerMol: number, referenceCelsius: number, celsius: number): number {
  const inverse = 1 / (referenceCelsius + ZERO_CELSIUS_KELVIN) - 1 / (celsius + ZERO_CELSIUS_KELVIN);
  return Math.exp(((kilojoulesPerMol * 1000) / GAS_CONSTANT) * inverse);
}
