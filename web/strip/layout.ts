import { isOut, type Mark } from './geometry.ts';

/**
 * Where each gas stands in a drift strip. The same gas has the same place on every row, so that a shape can be
 * learnt: twelve watched gases in order of mass, then, after half a pitch, the gases that chambers add of their own.
 */
export const WATCHED = [
  'H2',
  'He',
  'CH4',
  'H2O',
  'CO',
  'N2',
  'O2',
  'Ar',
  'CO2',
  'hydrocarbon-oil',
  'perfluoropolyether',
  'silicone',
] as const;

/** Pixels at the usual size. */
export const PITCH = 26;
/** Below this pitch, labels of 11 px would run into each other. */
export const LEAST_PITCH = 21;
/** Own gases beyond this count would push the sentence off the row; those in need come first. */
export const MOST_OWN_GASES = 4;

export interface Slot {
  readonly gas: string;
  /** Middle of the slot. */
  readonly x: number;
}

export interface Layout {
  readonly pitch: number;
  readonly slots: readonly Slot[];
  readonly width: number;
  /** Where a line of all gases would be wider than the screen: the own gases, on a line of their own. */
  readonly below?: Layout;
}

/** Slots without own gases are twelve pitches wide; each own gas adds one and the gap half a pitch. */
export const widthInPitches = (ownGases: number): number => WATCHED.length + (ownGases > 0 ? ownGases + 0.5 : 0);

export function layoutFor(ownGases: readonly string[], pitch = PITCH): Layout {
  const own = ownGases.filter((gas) => !(WATCHED as readonly string[]).includes(gas)).sort();
  const slots = [
    ...WATCHED.map((gas, i) => ({ gas, x: (i + 0.5) * pitch })),
    ...own.map((gas, i) => ({ gas, x: (WATCHED.length + 1 + i) * pitch })),
  ];
  return { pitch, slots, width: widthInPitches(own.length) * pitch };
}

/**
 * The gases beyond the watched twelve that the strips of one area show: those that stand out, then those that the
 * fleet document names for its chambers, the commonest first; at most `MOST_OWN_GASES`.
 */
export function ownGasesOf(strips: readonly (readonly Mark[])[], declared: readonly string[] = []): string[] {
  const weight = new Map<string, number>();
  const add = (gas: string, by: number) => weight.set(gas, (weight.get(gas) ?? 0) + by);
  const inNeed = declared.length + 1;
  for (const gas of declared) add(gas, 1);
  for (const mark of strips.flat()) {
    if (mark.alert !== null || isOut(mark)) add(mark.gas, inNeed);
  }
  for (const gas of WATCHED) weight.delete(gas);
  return [...weight.entries()]
    .sort(([gasA, a], [gasB, b]) => b - a || (gasA < gasB ? -1 : 1))
    .slice(0, MOST_OWN_GASES)
    .map(([gas]) => gas);
}

/** How many own gases fit `available` pixels beside the watched ones, at the least pitch. */
export const ownGasesThatFit = (available: number): number =>
  Math.max(0, Math.floor(available / LEAST_PITCH - WATCHED.length - 0.5));

/** The pitch that fits `available` pixels: never above the usual one, never so small that labels collide. */
export const pitchFor = (available: number, ownGases: number): number =>
  Math.max(LEAST_PITCH, Math.min(PITCH, Math.floor(available / widthInPitches(ownGases))));

/** Drawn closer together, not shrunk; what does not fit on one line stands on a second one. */
export function narrowLayout(ownGases: readonly string[], available: number): Layout {
  if (ownGases.length <= ownGasesThatFit(available)) return layoutFor(ownGases, pitchFor(available, ownGases.length));
  const pitch = pitchFor(available, 0);
  const first = layoutFor([], pitch);
  const slots = [...ownGases].sort().map((gas, i) => ({ gas, x: (i + 0.5) * pitch }));
  return { ...first, below: { pitch, slots, width: first.width } };
}

/** Every gas that has a place, in the order in which they are read. */
export const gasesOf = (layout: Layout): readonly string[] =>
  [...layout.slots, ...(layout.below?.slots ?? [])].map(({ gas }) => gas);
