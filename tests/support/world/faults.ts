/** What can go wrong: each fault adds gas, or changes a pump, the analyser or the data. */
import { DAY, HOUR, leastDetectableArgonPa, molarMassOf, sensitivityOf, truePattern, type World } from './chamber.ts';

/** Mole fractions, dry air: US Standard Atmosphere 1976. */
export const AIR = { N2: 0.78084, O2: 0.209476, Ar: 0.00934, CO2: 0.00042 } as const;

export type FaultKind =
  | 'air'
  | 'air-eaten'
  | 'air-growing'
  | 'air-trapped'
  | 'line-N2'
  | 'line-Ar'
  | 'line-O2'
  | 'line-SF6'
  | 'helium'
  | 'oil'
  | 'pfpe'
  | 'silicone'
  | 'acetone'
  | 'isopropanol'
  | 'methanol'
  | 'water'
  | 'water-growing'
  | 'hydrogen'
  | 'CO'
  | 'CO2'
  | 'methane'
  | 'pumping-light'
  | 'pumping'
  | 'argon-bursts'
  | 'gain'
  | 'mass-shift'
  | 'frozen'
  | 'gauge'
  | 'noise'
  | 'ioniser'
  | 'saturated'
  | 'unknown';

export interface Fault {
  readonly kind: FaultKind;
  /**
   * Air, argon, nitrogen, oxygen, helium lines: multiples of the least detectable; vapours and SF6: base peak as share
   * of m/z 18; water, H2, CO, CO2, CH4, pumping: rise as a fraction of normal; gain, gauge: factor.
   */
  readonly size: number;
  readonly fromSeconds: number;
  readonly untilSeconds?: number;
  readonly rampSeconds?: number;
  /** Of air: what is left of its oxygen. */
  readonly oxygen?: number;
  /** A pump that loses light gases first: exp(−β(√M − √2)). */
  readonly beta?: number;
}

/** Signatures that name the fault. */
export const NAMES: Readonly<Record<FaultKind, readonly string[]>> = {
  air: ['air-leak'],
  'air-eaten': ['air-leak'],
  'air-growing': ['air-leak'],
  'air-trapped': ['air-leak'],
  'line-N2': ['gas-inleak'],
  'line-Ar': ['gas-inleak'],
  'line-O2': ['gas-inleak'],
  'line-SF6': ['gas-inleak'],
  helium: ['helium'],
  oil: ['hydrocarbon-oil'],
  pfpe: ['perfluoropolyether'],
  silicone: ['silicone'],
  acetone: ['solvent'],
  isopropanol: ['solvent'],
  methanol: ['solvent'],
  water: ['water'],
  'water-growing': ['water'],
  hydrogen: ['hydrogen'],
  CO: ['carbon-oxides'],
  CO2: ['carbon-oxides'],
  methane: ['methane'],
  'pumping-light': ['pumping-loss'],
  pumping: ['pumping-loss', 'sensitivity-drift'],
  'argon-bursts': ['argon-bursts'],
  gain: ['sensitivity-drift'],
  'mass-shift': ['mass-shift'],
  frozen: ['frozen'],
  gauge: ['impossible-pressure', 'sensitivity-drift'],
  noise: ['noise'],
  ioniser: ['analyser-outgassing'],
  saturated: ['detector-saturated'],
  unknown: ['unexplained-peaks'],
};

const VAPOURS: Partial<Record<FaultKind, string>> = {
  'line-SF6': 'SF6',
  oil: 'hydrocarbon-oil',
  pfpe: 'perfluoropolyether',
  silicone: 'silicone',
  acetone: 'acetone',
  isopropanol: 'isopropanol',
  methanol: 'CH3OH',
};
const RISES: Partial<Record<FaultKind, string>> = {
  water: 'H2O',
  hydrogen: 'H2',
  CO: 'CO',
  CO2: 'CO2',
  methane: 'CH4',
};
const GROWTH_PER_WEEK = 0.0953;

export interface FaultEffect {
  /** Pa of gas that is let in. */
  readonly added: [string, number][];
  /** Multiplies residual pressures, per gas. */
  readonly pressureFactor: (gas: string) => number;
  readonly pumpFactor: number;
  readonly gain: number;
  readonly shift: number;
  readonly gauge: number;
  readonly noise: number;
  readonly ioniser: number;
  /** N2-equivalent Pa straight onto masses. */
  readonly peaks: Readonly<Record<number, number>>;
}

const NOTHING: FaultEffect = {
  added: [],
  pressureFactor: () => 1,
  pumpFactor: 1,
  gain: 1,
  shift: 0,
  gauge: 1,
  noise: 1,
  ioniser: 0,
  peaks: {},
};

/** Air at the chamber from an inflow that shows `argonPa` of argon before its speed: P_i = Q x_i / S_i. */
export function airPressures(world: World, argonPa: number, oxygen: number): [string, number][] {
  const inflow = argonPa / AIR.Ar;
  const { N2, O2, Ar } = world.speeds as { N2: number; O2: number; Ar: number };
  const eaten = (1 - Math.min(1, oxygen)) * inflow * AIR.O2;
  return [
    ['N2', (inflow * AIR.N2 * Ar) / N2],
    ['O2', (inflow * AIR.O2 * oxygen * Ar) / O2],
    ['Ar', inflow * AIR.Ar],
    ['CO2', inflow * AIR.CO2 + 0.05 * eaten],
    ['CO', 0.1 * eaten],
    ['H2O', 0.01 * inflow],
  ];
}

/** True inflow of air behind `airPressures`, Pa·m³/s. */
export const airInflow = (world: World, argonPa: number): number => (argonPa / AIR.Ar) * world.speeds.Ar! * 1e-3;

export function effectOf(world: World, fault: Fault | undefined, t: number): FaultEffect {
  if (!fault || t < fault.fromSeconds || t >= (fault.untilSeconds ?? Number.POSITIVE_INFINITY)) return NOTHING;
  const age = t - fault.fromSeconds;
  const part = fault.rampSeconds ? Math.min(1, age / fault.rampSeconds) : 1;
  const size = fault.size * part;
  const argon = leastDetectableArgonPa(world);
  const vapour = VAPOURS[fault.kind];
  const risen = RISES[fault.kind];
  const water18 = world.pressures.H2O! * truePattern(world, 'H2O')[18]!;
  if (vapour) return { ...NOTHING, added: [[vapour, (size * water18) / Math.max(...truePattern(world, vapour))]] };
  if (risen) return { ...NOTHING, added: [[risen, world.pressures[risen]! * size]] };
  switch (fault.kind) {
    case 'air':
      return { ...NOTHING, added: airPressures(world, size * argon, fault.oxygen ?? 0.8) };
    case 'air-eaten':
      return { ...NOTHING, added: airPressures(world, size * argon, fault.oxygen ?? 0.02) };
    case 'air-growing':
      return {
        ...NOTHING,
        added: airPressures(world, fault.size * argon * Math.exp((GROWTH_PER_WEEK * age) / (7 * DAY)), 0.7),
      };
    case 'air-trapped':
      // A volume behind a narrow way out: half of it is gone in twelve hours.
      return { ...NOTHING, added: airPressures(world, size * argon * 2 ** (-age / (DAY / 2)), fault.oxygen ?? 0.8) };
    case 'line-N2':
      return { ...NOTHING, added: [['N2', (size * argon * AIR.N2) / AIR.Ar]] };
    case 'line-O2':
      return { ...NOTHING, added: [['O2', (size * argon * AIR.O2) / AIR.Ar]] };
    case 'line-Ar':
      return { ...NOTHING, added: [['Ar', size * argon]] };
    case 'helium':
      return { ...NOTHING, added: [['He', (size * 3 * world.readNoisePa) / truePattern(world, 'He')[4]!]] };
    case 'water-growing':
      return {
        ...NOTHING,
        added: [['H2O', world.pressures.H2O! * (Math.exp((GROWTH_PER_WEEK * age) / (7 * DAY)) - 1)]],
      };
    case 'pumping':
      return { ...NOTHING, pumpFactor: 1 + size };
    case 'pumping-light': {
      const beta = fault.beta ?? 0.5;
      return {
        ...NOTHING,
        pressureFactor: (gas) => 1 + size * Math.exp(-beta * (Math.sqrt(molarMassOf(gas)) - Math.SQRT2)),
      };
    }
    case 'argon-bursts': {
      const phase = (age % (3 * HOUR)) / (3 * HOUR);
      return phase < 0.25 ? { ...NOTHING, added: [['Ar', size * argon * Math.exp(-phase * 8)]] } : NOTHING;
    }
    case 'gain':
      return { ...NOTHING, gain: 1 - (1 - fault.size) * part };
    case 'mass-shift':
      return { ...NOTHING, shift: size };
    case 'gauge':
      return { ...NOTHING, gauge: fault.size };
    case 'noise':
      return { ...NOTHING, noise: fault.size };
    case 'ioniser':
      return { ...NOTHING, ioniser: size * Math.exp(-age / (4 * HOUR)) };
    case 'unknown':
      // Three peaks that no gas of the catalogue has together.
      return { ...NOTHING, peaks: { 62: size * water18, 74: 0.7 * size * water18, 33: 0.5 * size * water18 } };
    default:
      return NOTHING;
  }
}

export const gaugeReadingFactor = (gas: string): number => sensitivityOf(gas);
