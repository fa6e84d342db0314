/** What chambers hold, in pascal for a total of about 1 Pa: kinds of chambers with amounts drawn at random. Invented. */
import type { Composition, Random } from './instrument.ts';

const unbaked = (r: Random): Composition => ({
  H2O: 1,
  H2: r.decades(0.05, 0.3),
  N2: r.decades(0.03, 0.2),
  CO: r.decades(0.02, 0.15),
  CO2: r.decades(0.02, 0.1),
  O2: r.decades(0.002, 0.03),
  Ar: r.decades(5e-4, 4e-3),
  CH4: r.decades(0.003, 0.03),
});

export const PROCESS_GASES = ['CF4', 'NF3', 'SF6', 'HCl', 'SiF4', 'CHF3', 'C2F6', 'NH3', 'Cl2', 'N2O', 'SiH4'];
export const SOLVENTS = ['isopropanol', 'acetone', 'C2H5OH', 'CH3OH', 'toluene'];

export const KINDS = {
  baked: (r: Random): Composition => ({
    H2: 1,
    CO: r.decades(0.03, 0.2),
    CO2: r.decades(0.005, 0.03),
    H2O: r.decades(0.01, 0.05),
    CH4: r.decades(0.003, 0.03),
    Ar: r.decades(5e-4, 5e-3),
  }),
  unbaked,
  air: (r: Random): Composition => {
    const air = r.decades(0.1, 3);
    return {
      N2: 0.78 * air,
      O2: 0.21 * air * r.between(0.5, 1),
      Ar: 0.0093 * air,
      H2O: r.decades(0.1, 1),
      CO2: r.decades(0.01, 0.05),
      H2: r.decades(0.03, 0.3),
      CO: r.decades(0.01, 0.1),
      CH4: r.decades(0.002, 0.01),
    };
  },
  oil: (r: Random): Composition => ({
    H2O: 1,
    H2: r.decades(0.05, 0.3),
    N2: r.decades(0.05, 0.3),
    CO: r.decades(0.03, 0.2),
    CO2: r.decades(0.02, 0.1),
    'hydrocarbon-oil': r.decades(1e-3, 0.02),
    CH4: r.decades(0.003, 0.03),
    Ar: r.decades(5e-4, 4e-3),
  }),
  process: (r: Random): Composition => ({
    H2O: r.decades(0.1, 1),
    N2: r.decades(0.1, 1),
    H2: r.decades(0.02, 0.2),
    CO: r.decades(0.01, 0.1),
    CO2: r.decades(0.01, 0.05),
    O2: r.decades(0.005, 0.05),
    Ar: r.decades(0.01, 1),
    [r.pick(PROCESS_GASES)]: r.decades(0.01, 0.3),
  }),
  solvent: (r: Random): Composition => ({ ...unbaked(r), [r.pick(SOLVENTS)]: r.decades(0.01, 0.1) }),
} as const;
export type Kind = keyof typeof KINDS;

export const scaled = (composition: Composition, factor: number): Composition =>
  Object.fromEntries(Object.entries(composition).map(([gas, pressure]) => [gas, pressure * factor]));
