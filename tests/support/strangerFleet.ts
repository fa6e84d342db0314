/** Twenty chambers with one true story each: what was done to them and what a technician must be told. */
import type { Gases, Stranger } from './strangers.ts';

const baked: Gases = { H2: 4e-8, CO: 4e-9, CO2: 6e-10, H2O: 1e-9, CH4: 6e-10, N2: 4e-10, Ar: 8e-12 };
const unbaked: Gases = {
  H2O: 4e-6,
  H2: 4e-7,
  CO: 3e-7,
  N2: 2e-7,
  CO2: 1.5e-7,
  O2: 8e-9,
  Ar: 3e-9,
  CH4: 3e-8,
  C2H6: 3e-9,
};
const times = (gases: Gases, factor: number): Gases =>
  Object.fromEntries(Object.entries(gases).map(([g, p]) => [g, p * factor]));
const air = (pressurePa: number, oxygen = 0.8): Gases => ({
  N2: 0.781 * pressurePa,
  O2: 0.2095 * oxygen * pressurePa,
  Ar: 0.00934 * pressurePa,
});

export interface Story extends Stranger {
  /** Signature that must be open at the end; null: nothing may be raised at all. */
  readonly expected: string | null;
  /** Signatures that are also true of this story. */
  readonly also?: readonly string[];
  readonly gas?: string;
}

/** Starts `minutes` before the end and stays. */
const since =
  (minutes: number, change: NonNullable<Stranger['change']> extends (m: number) => infer C ? C : never) =>
  (toEnd: number) =>
    toEnd <= minutes ? change : {};

export const STORIES: readonly Story[] = [
  { id: 'quiet-baked', seed: 11, rest: baked, unit: 'A', expected: null },
  { id: 'quiet-wet', seed: 12, rest: unbaked, unit: 'mbar', expected: null },
  { id: 'quiet-trap', seed: 13, rest: unbaked, unit: '1', lastMass: 135, expected: null },
  { id: 'quiet-profile', seed: 14, rest: unbaked, unit: 'Torr', perUnit: 8, lastMass: 50, expected: null },
  { id: 'quiet-bare', seed: 15, rest: baked, unit: 'Pa', gauge: false, expected: null },
  {
    id: 'vented',
    seed: 16,
    rest: unbaked,
    unit: 'Pa',
    expected: null,
    change: (m) =>
      m > 240 || m <= 0
        ? {}
        : m > 225
          ? { state: 'vented', missing: true }
          : {
              state: m > 120 ? 'pump-down' : 'base',
              factor: { H2O: 1 + (20 * 15) / (240 - m), N2: 1 + 300 / (240 - m) / 15, H2: 1 + 60 / (240 - m) },
            },
  },
  {
    id: 'argon-steps',
    seed: 17,
    rest: unbaked,
    unit: 'A',
    ownGases: ['Ar'],
    expected: null,
    change: (m) => (Math.floor(m / 20) % 3 === 1 ? { state: 'gas-on', add: { Ar: 2e-3 } } : { state: 'base' }),
  },
  { id: 'air-wet', seed: 21, rest: unbaked, unit: 'A', expected: 'air-leak', change: since(40, { add: air(6e-7) }) },
  { id: 'air-baked', seed: 22, rest: baked, unit: 'mbar', expected: 'air-leak', change: since(40, { add: air(2e-8) }) },
  {
    id: 'air-eaten',
    seed: 23,
    rest: baked,
    unit: 'A',
    expected: 'air-leak',
    change: since(40, { add: air(3e-8, 0.02) }),
  },
  {
    id: 'air-trap',
    seed: 24,
    rest: unbaked,
    unit: '1',
    lastMass: 135,
    expected: 'air-leak',
    change: since(40, { add: air(2e-6) }),
  },
  {
    id: 'air-profile',
    seed: 25,
    rest: unbaked,
    unit: 'A',
    perUnit: 8,
    lastMass: 50,
    expected: 'air-leak',
    change: since(40, { add: air(1e-6) }),
  },
  {
    id: 'line-nitrogen',
    seed: 26,
    rest: unbaked,
    unit: 'A',
    expected: 'gas-inleak',
    gas: 'N2',
    change: since(40, { add: { N2: 1.5e-6 } }),
  },
  {
    id: 'line-sf6',
    seed: 27,
    rest: unbaked,
    unit: 'A',
    lastMass: 150,
    ownGases: ['SF6'],
    expected: 'gas-inleak',
    gas: 'SF6',
    change: since(40, { add: { SF6: 1e-7 } }),
  },
  {
    id: 'oil',
    seed: 28,
    rest: unbaked,
    unit: 'A',
    lastMass: 120,
    expected: 'hydrocarbon-oil',
    change: since(40, { add: { 'hydrocarbon-oil': 2e-8 } }),
  },
  { id: 'water', seed: 29, rest: baked, unit: 'A', expected: 'water', change: since(60, { factor: { H2O: 8 } }) },
  {
    id: 'oxides',
    seed: 30,
    rest: baked,
    unit: 'A',
    expected: 'carbon-oxides',
    change: since(60, { factor: { CO: 4, CO2: 4 } }),
  },
  {
    id: 'gauge-low',
    seed: 31,
    rest: unbaked,
    unit: 'A',
    expected: 'impossible-pressure',
    change: since(60, { gaugeFactor: 0.3 }),
  },
  {
    id: 'stranger-peaks',
    seed: 32,
    rest: unbaked,
    unit: 'A',
    lastMass: 120,
    expected: 'unexplained-peaks',
    change: since(60, { peaks: { 88: 0.02, 113: 0.03, 62: 0.015 } }),
  },
  {
    id: 'silent',
    seed: 33,
    rest: unbaked,
    unit: 'A',
    expected: 'silent',
    change: (m) => (m < 45 ? { missing: true } : {}),
  },
];

export { baked, times, unbaked };
