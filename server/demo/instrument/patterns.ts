/**
 * How the analysers of the example break gases up: invented for the example, after common practice. Each analyser
 * differs from these by its own amounts (see ionSource.ts), as real ones do.
 */
import type { WorldGas } from '../physics/gases.ts';

export interface Pattern {
  /** Signal at the largest peak over that of as much N2 at mass 28. */
  readonly sensitivity: number;
  readonly base: number;
  /** [mass, share of the largest peak]: these depend on the ion source. */
  readonly fragments: readonly (readonly [number, number])[];
  /** [mass, mass of its parent, ratio]: isotopes, the same in every instrument. */
  readonly isotopes?: readonly (readonly [number, number, number])[];
}

export const PATTERNS: Readonly<Record<WorldGas, Pattern>> = {
  H2: { sensitivity: 0.46, base: 2, fragments: [[1, 0.03]] },
  He: { sensitivity: 0.19, base: 4, fragments: [] },
  CH4: {
    sensitivity: 0.8,
    base: 16,
    fragments: [
      [15, 0.86],
      [14, 0.17],
      [13, 0.085],
      [12, 0.03],
      [2, 0.01],
      [1, 0.03],
    ],
    isotopes: [[17, 16, 0.011]],
  },
  H2O: {
    sensitivity: 0.9,
    base: 18,
    fragments: [
      [17, 0.235],
      [16, 0.017],
      [19, 0.001],
      [2, 0.008],
      [1, 0.015],
    ],
    isotopes: [[20, 18, 0.0021]],
  },
  CO: {
    sensitivity: 1.04,
    base: 28,
    fragments: [
      [12, 0.048],
      [16, 0.018],
      [14, 0.008],
    ],
    isotopes: [
      [29, 28, 0.0112],
      [30, 28, 0.0021],
    ],
  },
  N2: { sensitivity: 1, base: 28, fragments: [[14, 0.115]], isotopes: [[29, 28, 0.0073]] },
  O2: { sensitivity: 0.88, base: 32, fragments: [[16, 0.16]], isotopes: [[34, 32, 0.0041]] },
  Ar: {
    sensitivity: 1.25,
    base: 40,
    fragments: [[20, 0.14]],
    isotopes: [
      [36, 40, 0.00335],
      [38, 40, 0.00063],
    ],
  },
  CO2: {
    sensitivity: 1.2,
    base: 44,
    fragments: [
      [28, 0.11],
      [16, 0.09],
      [12, 0.06],
      [22, 0.016],
    ],
    isotopes: [
      [45, 44, 0.0117],
      [46, 44, 0.0041],
    ],
  },
  C3H6: {
    sensitivity: 1.2,
    base: 41,
    fragments: [
      [39, 0.7],
      [42, 0.66],
      [27, 0.4],
      [40, 0.28],
      [38, 0.17],
      [26, 0.11],
      [37, 0.12],
      [15, 0.06],
      [14, 0.05],
      [13, 0.025],
    ],
    isotopes: [[43, 42, 0.033]],
  },
  // A straight-chain mineral oil as it reaches an analyser: saturated and unsaturated fragments in steps of 14.
  oil: {
    sensitivity: 7,
    base: 57,
    fragments: [
      [43, 0.93],
      [41, 0.62],
      [55, 0.66],
      [71, 0.55],
      [69, 0.42],
      [56, 0.31],
      [29, 0.3],
      [85, 0.33],
      [42, 0.22],
      [27, 0.2],
      [39, 0.17],
      [70, 0.22],
      [83, 0.28],
      [84, 0.12],
      [67, 0.13],
      [97, 0.2],
      [99, 0.1],
      [98, 0.08],
      [81, 0.12],
      [95, 0.1],
      [82, 0.08],
      [53, 0.07],
      [54, 0.05],
      [68, 0.06],
      [109, 0.06],
      [111, 0.1],
      [112, 0.05],
      [113, 0.07],
      [15, 0.03],
      [28, 0.06],
      [40, 0.02],
      [65, 0.02],
      [77, 0.03],
      [79, 0.04],
      [91, 0.04],
      [96, 0.05],
      [110, 0.04],
    ],
    isotopes: [
      [58, 57, 0.043],
      [72, 71, 0.054],
      [44, 43, 0.033],
      [86, 85, 0.065],
    ],
  },
  CF4: {
    sensitivity: 1.5,
    base: 69,
    fragments: [
      [50, 0.13],
      [19, 0.06],
      [31, 0.055],
      [25, 0.01],
    ],
    isotopes: [[70, 69, 0.011]],
  },
  NF3: {
    sensitivity: 0.6,
    base: 52,
    fragments: [
      [33, 0.5],
      [71, 0.3],
      [19, 0.2],
      [14, 0.08],
    ],
    isotopes: [[53, 52, 0.0037]],
  },
  SF6: {
    sensitivity: 1.5,
    base: 127,
    fragments: [
      [89, 0.24],
      [108, 0.09],
      [51, 0.08],
      [70, 0.07],
      [54, 0.05],
      [32, 0.05],
      [19, 0.03],
      [44, 0.01],
      [35, 0.01],
    ],
    isotopes: [
      [129, 127, 0.045],
      [128, 127, 0.0079],
      [91, 89, 0.045],
    ],
  },
};
