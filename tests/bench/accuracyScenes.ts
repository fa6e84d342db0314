/** Chambers of the accuracy bench: partial pressures in pascal, drawn at random. Invented. */
import type { Random } from '../support/instrument.ts';

export type Pressures = Readonly<Record<string, number>>;

export const RESIDUES = ['CF4', 'NF3', 'SF6', 'HCl', 'SiF4', 'CHF3', 'C2F6', 'Cl2', 'SiH4'];

const of = (totalPa: number, shares: Record<string, number>): Pressures => {
  const sum = Object.values(shares).reduce((a, b) => a + b, 0);
  return Object.fromEntries(Object.entries(shares).map(([gas, share]) => [gas, (share * totalPa) / sum]));
};

/** Water, and what comes off walls that were never baked. */
const walls = (r: Random) => ({
  H2O: 1,
  H2: r.decades(0.06, 0.5),
  CO: r.decades(0.02, 0.2),
  N2: r.decades(0.01, 0.15),
  CO2: r.decades(0.01, 0.12),
  CH4: r.decades(0.002, 0.04),
});

export const SCENES = {
  'baked UHV': (r: Random) =>
    of(r.decades(1e-9, 2e-8), {
      H2: 1,
      CO: r.decades(0.02, 0.25),
      CH4: r.decades(0.004, 0.05),
      CO2: r.decades(0.003, 0.04),
      H2O: r.decades(0.004, 0.05),
      Ar: r.decades(3e-4, 6e-3),
    }),
  unbaked: (r: Random) =>
    of(r.decades(1e-7, 1e-5), { ...walls(r), O2: r.decades(0.001, 0.02), Ar: r.decades(3e-4, 3e-3) }),
  'air leak': (r: Random) => {
    // Part of the oxygen is used up by a hot cathode and by walls.
    const left = r.between(0.3, 1);
    const leak = r.decades(0.3, 5);
    return of(r.decades(1e-6, 1e-4), {
      ...walls(r),
      N2: 0.7808 * leak + 0.02,
      O2: 0.2095 * leak * left,
      Ar: 0.0093 * leak,
    });
  },
  oil: (r: Random) =>
    of(r.decades(1e-7, 1e-5), { ...walls(r), Ar: r.decades(3e-4, 3e-3), 'hydrocarbon-oil': r.decades(2e-3, 0.05) }),
  'process residue': (r: Random) =>
    of(r.decades(1e-6, 1e-4), {
      ...walls(r),
      Ar: r.decades(0.01, 2),
      O2: r.decades(0.002, 0.05),
      [r.pick(RESIDUES)]: r.decades(0.01, 0.3),
    }),
} as const;
export type Scene = keyof typeof SCENES;
