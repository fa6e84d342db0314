/** One stroke per gas, everywhere: a slot gives the colour, the dash tells its guests apart, the label decides. */
export const SLOTS = ['h2', 'h2o', 'co', 'n2', 'o2', 'ar', 'co2', 'oil'] as const;
export type Slot = (typeof SLOTS)[number];

export interface Stroke {
  readonly slot: Slot;
  /** `stroke-dasharray`; an empty string is a solid line. */
  readonly dash: string;
}

/** At most this many lines in one picture, and never two of one slot. */
export const MOST_LINES = SLOTS.length;

const KNOWN: Readonly<Record<string, Stroke>> = {
  H2: { slot: 'h2', dash: '' },
  He: { slot: 'h2', dash: '1 3' },
  D2: { slot: 'h2', dash: '6 2' },
  HD: { slot: 'h2', dash: '6 2' },
  H2O: { slot: 'h2o', dash: '' },
  NH3: { slot: 'h2o', dash: '6 2' },
  HF: { slot: 'h2o', dash: '1 3' },
  CO: { slot: 'co', dash: '7 3' },
  Ne: { slot: 'co', dash: '1 3' },
  Kr: { slot: 'co', dash: '12 3' },
  Xe: { slot: 'co', dash: '12 3' },
  N2: { slot: 'n2', dash: '' },
  perfluoropolyether: { slot: 'n2', dash: '1 3' },
  O2: { slot: 'o2', dash: '9 2 2 2' },
  N2O: { slot: 'o2', dash: '1 3' },
  NO: { slot: 'o2', dash: '1 3' },
  NO2: { slot: 'o2', dash: '1 3' },
  Cl2: { slot: 'o2', dash: '6 2' },
  HCl: { slot: 'o2', dash: '6 2' },
  HBr: { slot: 'o2', dash: '6 2' },
  F2: { slot: 'o2', dash: '6 2' },
  Ar: { slot: 'ar', dash: '5 2' },
  CO2: { slot: 'co2', dash: '2 2' },
  SO2: { slot: 'co2', dash: '12 3' },
  H2S: { slot: 'co2', dash: '12 3' },
  'hydrocarbon-oil': { slot: 'oil', dash: '11 3' },
  silicone: { slot: 'oil', dash: '1 3' },
  CH4: { slot: 'oil', dash: '4 2' },
};

/** Carbon and hydrogen only. */
const HYDROCARBON = /^C\d*H\d+$/;
const HOLDS_FLUORINE = /F\d*(?![a-z])/;
const HOLDS_HEAVY_HALOGEN = /(Cl|Br|I)\d*(?![a-z])/;
const HOLDS_SILICON = /Si/;
const HOLDS_CARBON = /C(?![a-z])/;

/** A gas that is not listed is a guest in the slot of its kin. */
export function strokeOf(gas: string): Stroke {
  const known = Object.hasOwn(KNOWN, gas) ? KNOWN[gas] : undefined;
  if (known) return known;
  if (HYDROCARBON.test(gas)) return { slot: 'oil', dash: '4 2' };
  if (HOLDS_SILICON.test(gas)) return { slot: 'oil', dash: '1 3' };
  if (HOLDS_FLUORINE.test(gas)) return { slot: 'n2', dash: '6 2' };
  if (HOLDS_HEAVY_HALOGEN.test(gas)) return { slot: 'o2', dash: '6 2' };
  // Solvents: carbon with oxygen or nitrogen, and whatever the catalogue names in words.
  if (HOLDS_CARBON.test(gas) || /^[a-z]/.test(gas)) return { slot: 'ar', dash: '12 3' };
  return { slot: 'co2', dash: '12 3' };
}

/** Who holds the slot that `gas` would take; null when it is free or `gas` is drawn already. */
export function rivalOf(gas: string, drawn: readonly string[]): string | null {
  if (drawn.includes(gas)) return null;
  const { slot } = strokeOf(gas);
  return drawn.find((other) => strokeOf(other).slot === slot) ?? null;
}

/** The first of each slot, in order: what may be drawn together. */
export function drawable(gases: readonly string[]): string[] {
  const taken = new Set<Slot>();
  return gases.filter((gas) => {
    const { slot } = strokeOf(gas);
    if (taken.has(slot)) return false;
    taken.add(slot);
    return true;
  });
}
