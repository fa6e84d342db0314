/** What goes wrong in the bench's world, by its physics; the names that are right for it; and what only looks like it. */
import type { Signature } from '../../../shared/contract/words.ts';
import type { Random } from '../../support/instrument.ts';
import { type Chamber, leastDetectableLeak } from './chamber.ts';
import type { Effect } from './effect.ts';
import { AIR, GAS_TABLE, type Gas } from './gasTable.ts';
import { DAY, HOUR } from './hall.ts';

export interface Situation {
  readonly chamber: Chamber;
  readonly size: number;
  /** Seconds since the onset. */
  readonly age: number;
  /** Four numbers of this instance, 0 to 1. */
  readonly dice: readonly [number, number, number, number];
}

export interface Condition {
  readonly sizes: readonly number[];
  /** What `size` counts. */
  readonly unit: string;
  /** Signatures that name it; none: nothing may be raised. */
  readonly names: (chamber: Chamber) => readonly Signature[];
  /** It is followed for so long, or for so many scans when that is shorter. */
  readonly hours: number;
  readonly scans: number;
  readonly effect: (situation: Situation) => Partial<Effect>;
  /** Nothing can be said of the chamber while it lasts. */
  readonly blinds?: true;
  /** Absent: on any chamber. */
  readonly needs?: (chamber: Chamber) => boolean;
}

export const air = (leak: number, oxygen: number): Effect['inflow'] => {
  const eaten = leak * AIR.O2 * (1 - oxygen);
  // What metal and filament do with the oxygen: mostly bind it, some comes back as oxides of carbon.
  return {
    N2: leak * AIR.N2,
    O2: leak * AIR.O2 * oxygen,
    Ar: leak * AIR.Ar,
    CO2: leak * AIR.CO2 + 0.04 * eaten,
    CO: 0.08 * eaten,
    H2O: 0.01 * leak,
  };
};
const peakOf18 = ({ loads, speeds, analyser }: Chamber): number =>
  (loads.H2O! / speeds.H2O) * analyser.responses.H2O[18]!;
/** Inflow whose largest peak is so many times m/z 18. */
const vapour = (chamber: Chamber, gas: Gas, share: number): Effect['inflow'] => {
  const response = Math.max(...chamber.analyser.responses[gas]);
  return { [gas]: ((share * peakOf18(chamber)) / response) * chamber.speeds[gas] };
};
const usualTop = (chamber: Chamber): number =>
  Math.max(
    ...(['H2', 'H2O', 'N2', 'CO'] as const).map(
      (gas) => (chamber.loads[gas]! / chamber.speeds[gas]) * Math.max(...chamber.analyser.responses[gas]),
    ),
  );
const USUAL_SCANS = 80;
/** The analyser's range reaches what the substance is known by. */
const sees =
  (mass: number) =>
  ({ analyser }: Chamber): boolean =>
    analyser.lastMass >= mass;
const gauged = ({ analyser }: Chamber): boolean => analyser.hasGauge;
const only =
  (...signatures: Signature[]) =>
  () =>
    signatures;
const steady = (
  signature: Signature,
  sizes: readonly number[],
  unit: string,
  effect: Condition['effect'],
  hours?: number,
): Condition => ({
  names: only(signature),
  sizes,
  unit,
  effect,
  hours: hours ?? 12,
  scans: hours === undefined ? USUAL_SCANS : Number.POSITIVE_INFINITY,
});
const leaking =
  (inflow: (leak: number, situation: Situation) => Effect['inflow']): Condition['effect'] =>
  (situation) => ({
    inflow: inflow(situation.size * leastDetectableLeak(situation.chamber), situation),
  });
const vapours =
  (gas: Gas): Condition['effect'] =>
  ({ chamber, size }) => ({ inflow: vapour(chamber, gas, size) });
const more =
  (gas: string): Condition['effect'] =>
  ({ size }) => ({ loadFactor: (of) => (of === gas ? 1 + size : 1) });
const MDQ = '× MDQ';
const OF_18 = 'of m/z 18';
const OF_USUAL = 'of usual, added';

export const CONDITIONS: Readonly<Record<string, Condition>> = {
  'air leak': steady(
    'air-leak',
    [1, 3, 10, 30],
    MDQ,
    leaking((leak, { dice }) => air(leak, 0.3 + 0.7 * dice[0])),
  ),
  'air leak, oxygen eaten': steady(
    'air-leak',
    [3, 10],
    MDQ,
    leaking((leak, { dice }) => air(leak, 0.05 * dice[0])),
  ),
  'air leak that opens over hours': steady(
    'air-leak',
    [10],
    MDQ,
    leaking((leak, { age, dice }) => air(leak * Math.min(1, age / (2 + 6 * dice[1]) / HOUR), 0.3 + 0.7 * dice[0])),
    20,
  ),
  'trapped air': {
    ...steady(
      'air-leak',
      [10],
      MDQ,
      leaking((leak, { age }) => air(leak * Math.exp(-age / (3 * DAY)), 0.6)),
    ),
    names: only('air-leak', 'gas-inleak'),
  },
  'nitrogen line': steady(
    'gas-inleak',
    [10, 30],
    MDQ,
    leaking((leak) => ({ N2: leak * AIR.N2 })),
  ),
  'argon line': steady(
    'gas-inleak',
    [10, 30],
    MDQ,
    leaking((leak) => ({ Ar: leak * AIR.Ar })),
  ),
  'oxygen line': steady(
    'gas-inleak',
    [10, 30],
    MDQ,
    leaking((leak) => ({ O2: leak * AIR.O2 })),
  ),
  SF6: { ...steady('gas-inleak', [0.003, 0.01], OF_18, vapours('SF6')), needs: sees(127) },
  helium: steady('helium', [10, 50], 'σ of m/z 4', ({ chamber, size }) => ({
    inflow: { He: ((size * chamber.analyser.readPa) / chamber.analyser.responses.He[4]!) * chamber.speeds.He },
  })),
  oil: steady('hydrocarbon-oil', [0.01, 0.05, 0.2], OF_18, vapours('oil')),
  perfluoropolyether: {
    ...steady('perfluoropolyether', [0.005, 0.02], OF_18, vapours('perfluoropolyether')),
    needs: sees(69),
  },
  silicone: { ...steady('silicone', [0.005, 0.02], OF_18, vapours('silicone')), needs: sees(73) },
  acetone: steady('solvent', [0.02, 0.1], OF_18, vapours('acetone')),
  isopropanol: steady('solvent', [0.02, 0.1], OF_18, vapours('isopropanol')),
  methanol: steady('solvent', [0.02, 0.1], OF_18, vapours('methanol')),
  toluene: { ...steady('solvent', [0.02, 0.1], OF_18, vapours('toluene')), needs: sees(92) },
  water: steady('water', [0.5, 1, 3], OF_USUAL, more('H2O')),
  hydrogen: steady('hydrogen', [1, 3], OF_USUAL, more('H2')),
  'carbon monoxide': steady('carbon-oxides', [0.5, 2], OF_USUAL, more('CO')),
  'carbon dioxide': steady('carbon-oxides', [0.5, 2], OF_USUAL, more('CO2')),
  methane: steady('methane', [1, 3], OF_USUAL, more('CH4')),
  'pump lost': {
    ...steady('pumping-loss', [0.5, 0.7], 'of the speed lost', ({ size }) => ({ speedFactor: () => 1 - size })),
    names: ({ analyser }) => (analyser.hasGauge ? ['pumping-loss'] : ['pumping-loss', 'sensitivity-drift']),
  },
  'pump that loses light gases': steady('pumping-loss', [0.6, 0.8], 'of the speed for H2 lost', ({ size, dice }) => ({
    speedFactor: (gas) =>
      1 - size * Math.exp(-(0.3 + 0.5 * dice[0]) * (Math.sqrt(GAS_TABLE[gas as Gas].molarMass) - Math.SQRT2)),
  })),
  'argon bursts': steady(
    'argon-bursts',
    [10, 30],
    MDQ,
    ({ chamber, size, age, dice }) => {
      const period = (2 + 2 * dice[0]) * HOUR;
      const since = age % period;
      const burst = size * leastDetectableLeak(chamber) * AIR.Ar * Math.exp(-since / (0.12 * period));
      return { inflow: { Ar: since < period / 3 ? burst : 0 } };
    },
    36,
  ),
  'unknown substance': steady('unexplained-peaks', [0.02, 0.1], OF_18, ({ chamber, size, dice }) => {
    // Masses that no ordinary fragment of the trade shares (invented).
    const main = [47, 49, 62, 63][Math.floor(4 * dice[0])]!;
    const height = size * peakOf18(chamber);
    return { peaks: { [main]: height, [main - 10]: 0.5 * height, 33: 0.3 * height } };
  }),
  'gain lost': {
    ...steady('sensitivity-drift', [0.2, 0.4], 'of the gain lost', ({ size }) => ({ gain: 1 - size })),
    // A relative signal has no height to lose.
    needs: ({ analyser }) => analyser.unit !== '1',
  },
  'mass scale': steady('mass-shift', [0.2, 0.3], 'u at m/z 50', ({ size }) => ({ shiftU: size })),
  'gauge low': {
    ...steady('impossible-pressure', [0.5, 0.7], 'of its reading lost', ({ size }) => ({ gauge: 1 - size })),
    names: only('impossible-pressure', 'sensitivity-drift'),
    needs: gauged,
  },
  'gauge high': {
    ...steady('impossible-pressure', [1, 2], OF_USUAL, ({ size }) => ({ gauge: 1 + size })),
    names: only('impossible-pressure', 'sensitivity-drift'),
    needs: gauged,
  },
  'ioniser gas': steady('analyser-outgassing', [3, 10], 'of its usual gas, added', ({ size, age }) => ({
    ioniser: size * Math.exp(-age / (4 * HOUR)),
  })),
  noise: { ...steady('noise', [4, 10], '× noise', ({ size }) => ({ noise: size })), blinds: true },
  'frozen values': { ...steady('frozen', [1], '', () => ({ frozen: true })), blinds: true },
  'detector at its stop': {
    ...steady('detector-saturated', [0.4], 'of the largest peak', ({ size }) => ({ stop: size })),
    blinds: true,
  },
  silence: { ...steady('silent', [1], '', () => ({ silent: true })), blinds: true },
};

/** Look-alikes: none of them may call anybody. */
const quiet = (effect: Condition['effect'], sizes: readonly number[] = [1], unit = '', hours = 12): Condition => ({
  names: () => [],
  sizes,
  unit,
  hours,
  scans: hours > 12 ? Number.POSITIVE_INFINITY : USUAL_SCANS,
  effect,
});
const rampUp = (age: number) => Math.min(1, age / (2 * HOUR));

export const LOOK_ALIKES: Readonly<Record<string, Condition>> = {
  'hall warmer for a day': quiet(({ age, size }) => ({ hallKelvin: size * rampUp(age) }), [4], 'K', 24),
  'gain moves': quiet(({ size }) => ({ gain: 1 + size }), [0.08, -0.08]),
  'air in one scan': quiet(
    ({ chamber, age, size }) =>
      age < chamber.analyser.periodSeconds ? { inflow: air(size * leastDetectableLeak(chamber), 0.8) } : {},
    [30],
    MDQ,
  ),
  'water halves': quiet(({ size }) => ({ loadFactor: (gas) => (gas === 'H2O' ? size : 1) }), [0.5], 'of usual'),
  'water fifteen per cent up': quiet(more('H2O'), [0.15], OF_USUAL),
  'gauge twelve per cent up': {
    ...quiet(({ size }) => ({ gauge: 1 + size }), [0.12], OF_USUAL),
    needs: gauged,
  },
  'one mass in one scan': quiet(({ chamber, age }) =>
    age < chamber.analyser.periodSeconds ? { peaks: { 57: 0.3 * chamber.totalPa } } : {},
  ),
};

export const stopPa = (chamber: Chamber, share: number): number => share * usualTop(chamber);

export const rollDice = (random: Random): Situation['dice'] => [
  random.uniform(),
  random.uniform(),
  random.uniform(),
  random.uniform(),
];
