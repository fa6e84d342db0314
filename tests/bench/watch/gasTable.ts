/**
 * Gases of the bench's world. None of it is read from the product's catalogue.
 *
 * Peaks in per cent of the largest at 70 or 80 eV. MassBank records of the University of Tokyo set (JP001576 CO2, JP001577
 * CO, JP001578 C2H6, JP001582 CH4, JP006441 acetone, JP000271 2-propanol, JP008889 methanol, JP004693 toluene, JP006889
 * n-paraffin), V. Tarnovsky et al., Int. J. Mass Spectrom. Ion Process. 133 (1994) 175 for NF3; H2, H2O, N2, O2, Ar: one
 * decimal of what handbooks print (from memory); perfluoropolyether, silicone, SF6: from memory.
 * Sensitivity of an ionisation gauge relative to N2: P. A. Redhead's table in the CRC Handbook, rounded; organic vapours
 * and oils: orders of magnitude from memory. Every chamber errs from all of this by rules of its own (`chamber.ts`).
 * Dry air: US Standard Atmosphere 1976.
 */
export interface GasFacts {
  readonly molarMass: number;
  readonly sensitivity: number;
  readonly peaks: Readonly<Record<number, number>>;
}

export const AIR = { N2: 0.78084, O2: 0.209476, Ar: 0.00934, CO2: 0.00042, He: 5.24e-6 } as const;

// biome-ignore format: a table
export const GAS_TABLE = {
  H2: { molarMass: 2.016, sensitivity: 0.44, peaks: { 1: 2.5, 2: 100 } },
  He: { molarMass: 4.003, sensitivity: 0.18, peaks: { 4: 100 } },
  CH4: { molarMass: 16.04, sensitivity: 1.55, peaks: { 12: 2.7, 13: 7.6, 14: 15.4, 15: 83.2, 16: 100, 17: 1.1 } },
  H2O: { molarMass: 18.015, sensitivity: 1, peaks: { 16: 1.5, 17: 23, 18: 100, 19: 0.3, 20: 0.3 } },
  CO: { molarMass: 28.01, sensitivity: 1.03, peaks: { 12: 3.5, 14: 1.7, 16: 2, 28: 100, 29: 1.2 } },
  N2: { molarMass: 28.014, sensitivity: 1, peaks: { 14: 9, 28: 100, 29: 0.7 } },
  C2H6: { molarMass: 30.07, sensitivity: 2.5, peaks: { 13: 1.2, 14: 3.4, 15: 4.6, 25: 4.2, 26: 23, 27: 33.3, 28: 100, 29: 21.7, 30: 26.2 } },
  O2: { molarMass: 31.998, sensitivity: 0.95, peaks: { 16: 14, 32: 100, 34: 0.4 } },
  Ar: { molarMass: 39.95, sensitivity: 1.35, peaks: { 20: 12, 36: 0.34, 38: 0.06, 40: 100 } },
  CO2: { molarMass: 44.01, sensitivity: 1.42, peaks: { 12: 5.4, 16: 9.3, 22: 1.8, 28: 12.7, 44: 100, 45: 1.3, 46: 0.4 } },
  methanol: { molarMass: 32.04, sensitivity: 1.9, peaks: { 12: 1.3, 13: 2.5, 14: 5.1, 15: 24.7, 17: 1.5, 18: 1.4, 28: 5, 29: 51.3, 30: 7, 31: 100, 32: 73.8, 33: 1.6 } },
  acetone: { molarMass: 58.08, sensitivity: 3.7, peaks: { 14: 3.9, 15: 20.7, 26: 5.2, 27: 7.9, 28: 2.9, 37: 1.5, 38: 1.7, 39: 4.3, 41: 1.4, 42: 7.7, 43: 100, 44: 2.3, 58: 24.6 } },
  isopropanol: { molarMass: 60.1, sensitivity: 4, peaks: { 14: 1.6, 15: 5.7, 19: 7.5, 27: 12.7, 28: 3.7, 29: 7.9, 31: 0.6, 39: 5.3, 41: 0.7, 42: 2, 43: 10.9, 44: 4.2, 45: 100, 46: 2.3, 59: 3.7 } },
  toluene: { molarMass: 92.14, sensitivity: 6.6, peaks: { 45: 8.9, 46: 9.2, 50: 11.6, 51: 22.8, 52: 6.1, 61: 5, 62: 10.2, 63: 26.9, 64: 6.1, 65: 49.6, 66: 5.3, 89: 3.8, 91: 100, 92: 71.6, 93: 5.4 } },
  oil: { molarMass: 350, sensitivity: 15, peaks: { 27: 7.2, 29: 20.2, 39: 4.1, 41: 40.1, 42: 9.9, 43: 90.4, 53: 1.6, 54: 2.2, 55: 26.7, 56: 16.1, 57: 100, 58: 4.6, 67: 1.9, 69: 11.5, 70: 11.1, 71: 58.8, 83: 6.8, 84: 5.9, 85: 37.1, 97: 4.2, 98: 4, 99: 9.9, 113: 5.7, 127: 3.9, 141: 2.2 } },
  perfluoropolyether: { molarMass: 1000, sensitivity: 6, peaks: { 31: 12, 47: 18, 50: 7, 66: 3, 69: 100, 97: 7, 100: 14, 119: 22, 131: 3, 135: 2, 147: 4 } },
  silicone: { molarMass: 500, sensitivity: 12, peaks: { 28: 4, 43: 9, 45: 16, 59: 11, 73: 100, 74: 8, 75: 7, 117: 4, 131: 7, 133: 9, 147: 65, 148: 10 } },
  SF6: { molarMass: 146.06, sensitivity: 2.3, peaks: { 19: 4, 32: 5, 35: 3, 51: 8, 54: 4, 70: 7, 89: 25, 108: 8.5, 127: 100, 129: 4.5 } },
  NF3: { molarMass: 71, sensitivity: 1.1, peaks: { 14: 9.5, 19: 28.6, 33: 66.7, 52: 100, 71: 33.3 } },
} as const satisfies Readonly<Record<string, GasFacts>>;

export type Gas = keyof typeof GAS_TABLE;
/** What a clean chamber holds. */
export const RESIDUAL = [
  'H2',
  'He',
  'CH4',
  'H2O',
  'CO',
  'N2',
  'C2H6',
  'O2',
  'Ar',
  'CO2',
  'oil',
] as const satisfies readonly Gas[];
export const GAS_NAMES = Object.keys(GAS_TABLE) as Gas[];
