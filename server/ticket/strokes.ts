/**
 * One stroke per gas, the same in every picture: colour and dash, either of which is enough to tell it by. The page
 * draws the same gas in the same slot with the same dash; a test holds the two together.
 */

export interface Stroke {
  colour: string;
  dash: string;
}

const SLOTS = {
  moss: '#61653a',
  woad: '#004a93',
  clay: '#ad6a6a',
  lilac: '#917edf',
  garnet: '#6f1c36',
  verdigris: '#009f8a',
  bark: '#4f3d00',
  weld: '#9c8f00',
} as const;

const OF_GAS: Record<string, Stroke> = {
  H2: { colour: SLOTS.moss, dash: '' },
  He: { colour: SLOTS.moss, dash: '1 3' },
  D2: { colour: SLOTS.moss, dash: '6 2' },
  HD: { colour: SLOTS.moss, dash: '6 2' },
  H2O: { colour: SLOTS.woad, dash: '' },
  NH3: { colour: SLOTS.woad, dash: '6 2' },
  HF: { colour: SLOTS.woad, dash: '1 3' },
  CO: { colour: SLOTS.clay, dash: '7 3' },
  Ne: { colour: SLOTS.clay, dash: '1 3' },
  Kr: { colour: SLOTS.clay, dash: '12 3' },
  Xe: { colour: SLOTS.clay, dash: '12 3' },
  N2: { colour: SLOTS.lilac, dash: '' },
  perfluoropolyether: { colour: SLOTS.lilac, dash: '1 3' },
  O2: { colour: SLOTS.garnet, dash: '9 2 2 2' },
  N2O: { colour: SLOTS.garnet, dash: '1 3' },
  NO: { colour: SLOTS.garnet, dash: '1 3' },
  NO2: { colour: SLOTS.garnet, dash: '1 3' },
  F2: { colour: SLOTS.garnet, dash: '6 2' },
  Ar: { colour: SLOTS.verdigris, dash: '5 2' },
  CO2: { colour: SLOTS.bark, dash: '2 2' },
  SO2: { colour: SLOTS.bark, dash: '12 3' },
  H2S: { colour: SLOTS.bark, dash: '12 3' },
  'hydrocarbon-oil': { colour: SLOTS.weld, dash: '11 3' },
  CH4: { colour: SLOTS.weld, dash: '4 2' },
  silicone: { colour: SLOTS.weld, dash: '1 3' },
};

/** A gas that is not listed is a guest in the slot of its kin. */
const byKind = (gas: string): Stroke => {
  if (/^C\d*H\d+$/.test(gas)) return { colour: SLOTS.weld, dash: '4 2' };
  if (/Si/.test(gas)) return { colour: SLOTS.weld, dash: '1 3' };
  if (/F\d*(?![a-z])/.test(gas)) return { colour: SLOTS.lilac, dash: '6 2' };
  if (/(Cl|Br|I)\d*(?![a-z])/.test(gas)) return { colour: SLOTS.garnet, dash: '6 2' };
  // Solvents: carbon with oxygen or nitrogen, and whatever the catalogue names in words.
  if (/C(?![a-z])/.test(gas) || /^[a-z]/.test(gas)) return { colour: SLOTS.verdigris, dash: '12 3' };
  return { colour: SLOTS.bark, dash: '12 3' };
};

export const strokeOf = (gas: string): Stroke => OF_GAS[gas] ?? byKind(gas);

/** The first of each colour, in order: at most eight lines, and never two that could be taken for each other. */
export const drawable = (gases: readonly string[]): string[] => {
  const taken = new Set<string>();
  return gases.filter((gas) => {
    const { colour } = strokeOf(gas);
    if (taken.has(colour)) return false;
    taken.add(colour);
    return true;
  });
};
