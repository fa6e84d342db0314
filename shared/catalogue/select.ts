/** Which gases one chamber may hold, and by which names people call them. */
import { CATALOGUE_VERSION, GASES, type GasId, gasById } from './gases.ts';
import type { Catalogue, CatalogueGas } from './types.ts';

/**
 * What any chamber, its walls, seals, pumps, cleaning and the air around it can bring. The list is short on purpose:
 * every candidate that is not there can be mistaken for one that is. Left out, though some chambers hold them:
 * - HF: at m/z 20 it can hardly be told from Ne and Ar++, and F+ from the analyser's own surfaces makes up its 19;
 * - NO, N2O: beside CO2 each is taken for the other;
 * - acetylene: m/z 26 of oil, which records of oil leave out, is taken for it;
 * - heavier ketones, alkanes and plasticisers: in a scan that ends at 100 they look like oil;
 * - Kr, Xe: air brings too little to be seen; process gases: a chamber that sees one names it.
 */
// biome-ignore format: an order reads best in lines
const DEFAULT_IDS: readonly GasId[] = [
  // walls, hot cathodes, air
  'H2', 'He', 'CH4', 'NH3', 'H2O', 'Ne', 'CO', 'N2', 'O2', 'Ar', 'CO2',
  // cracked oil and grease, ion pumps, getters
  'C2H4', 'C2H6', 'C3H6', 'C3H8', 'C4H10',
  // cleaning
  'CH3OH', 'C2H5OH', 'acetone', 'isopropanol', 'benzene', 'toluene', 'trichloroethylene',
  // elastomers and sealants, chlorinated residues
  'H2S', 'HCl', 'SO2', 'acetic-acid',
  // pumps, greases, seals
  'hydrocarbon-oil', 'perfluoropolyether', 'silicone',
];

/** Present in almost every chamber: they stay in a fit even where a single scan gives no evidence for them. */
const PROTECTED_IDS: readonly GasId[] = ['H2', 'He', 'CH4', 'NH3', 'H2O', 'CO', 'N2', 'O2', 'Ar', 'CO2'];

const byMolarMass = (a: CatalogueGas, b: CatalogueGas): number =>
  (a.molarMassGramsPerMole?.value ?? Number.MAX_VALUE) - (b.molarMassGramsPerMole?.value ?? Number.MAX_VALUE);

const DEFAULT_GASES: readonly CatalogueGas[] = DEFAULT_IDS.map(gasById).sort(byMolarMass);

/** `NFKC` turns the subscripts of a pasted formula into plain digits. */
const spelling = (name: string): string => name.normalize('NFKC').trim().toLowerCase();

/** Every way to write a gas → its id. Ids win over formulae; a formula that two gases share names neither of them. */
const spellings = (): ReadonlyMap<string, string> => {
  const ids = new Map(GASES.map((gas) => [spelling(gas.id), gas.id]));
  const others = new Map<string, string | null>();
  for (const gas of GASES) {
    for (const key of new Set([gas.formula, gas.name, ...gas.aliases].map(spelling))) {
      others.set(key, others.has(key) ? null : gas.id);
    }
  }
  for (const [key, id] of others) if (id !== null && !ids.has(key)) ids.set(key, id);
  return ids;
};

const SPELLINGS = spellings();

/** Catalogue id of a gas that is written as an id, formula, name or alias in any case; null: the catalogue has none. */
export const resolveGas = (name: string): string | null => SPELLINGS.get(spelling(name)) ?? null;

/**
 * The gases of one chamber: the default set by molar mass, then its own gases by molar mass, mixtures without a molar
 * mass last in each. A name that the catalogue does not know is left out: a fleet document is checked at the door.
 */
export const catalogueFor = (ownGases: readonly string[]): Catalogue => {
  const own = new Set(ownGases.map(resolveGas).filter((id) => id !== null));
  const added = GASES.filter((gas) => own.has(gas.id) && !DEFAULT_GASES.includes(gas)).sort(byMolarMass);
  return {
    version: CATALOGUE_VERSION,
    gases: [...DEFAULT_GASES, ...added],
    protectedIds: new Set([...PROTECTED_IDS, ...own]),
  };
};
