/** One stroke per gas, the same in every picture: colour and dash, either of which is enough to tell it by. */

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
  Ar: { colour: SLOTS.verdigris, dash: '5 2' },
  CO2: { colour: SLOTS.bark, dash: '2 2' },
  SO2: { colour: SLOTS.bark, dash: '12 3' },
  H2S: { colour: SLOTS.bark, dash: '12 3' },
  'hydrocarbon-oil': { colour: SLOTS.weld, dash: '11 3' },
  CH4: { colour: SLOTS.weld, dash: '4 2' },
  silicone: { colour: SLOTS.weld, dash: '1 3' },
};
/** Fluorine compounds share a slot, halogens another; the rest are solvents and hydrocarbons. */
const byKind = (gas: string): Stroke => {
  if (/F/.test(gas)) return { colour: SLOTS.lilac, dash: '6 2' };
  if (/Cl|Br/.test(gas)) return { colour: SLOTS.garnet, dash: '6 2' };
  if (/^C\d*H/.test(gas)) return { colour: SLOTS.weld, dash: '4 2' };
  return { colour: SLOTS.verdigris, dash: '12 3' };
};

export const strokeOf = (gas: string): Stroke => OF_GAS[gas] ?? byKind(gas);
