/**
 * The catalogue: one list, in a fixed order. A gas keeps its place (its stroke in a trend follows from it),
 * so a new one is appended to `ORDER` and written into the file of its family.
 */
import { fingerprint } from './fingerprint.ts';
import { CHLORINATED_COMPOUNDS } from './gases/chlorinated.ts';
import { LIGHT_HYDROCARBONS } from './gases/hydrocarbons.ts';
import { NOBLE_GASES } from './gases/noble.ts';
import { OILS_AND_SILICONES } from './gases/oils.ts';
import { PERMANENT_GASES } from './gases/permanent.ts';
import { PROCESS_GASES } from './gases/process.ts';
import { SOLVENTS } from './gases/solvents.ts';
import { SOURCES } from './sources.ts';
import type { CatalogueGas } from './types.ts';

const WRITTEN = [
  ...PERMANENT_GASES,
  ...NOBLE_GASES,
  ...LIGHT_HYDROCARBONS,
  ...SOLVENTS,
  ...CHLORINATED_COMPOUNDS,
  ...PROCESS_GASES,
  ...OILS_AND_SILICONES,
] as const;

export type GasId = (typeof WRITTEN)[number]['id'];

// biome-ignore format: an order reads best in lines
const ORDER: readonly GasId[] = [
  'H2', 'He', 'CH4', 'NH3', 'H2O', 'Ne', 'C2H2', 'CO', 'N2', 'C2H4', 'C2H6', 'O2', 'CH3OH', 'H2S', 'HCl', 'Ar',
  'C3H6', 'C3H8', 'CO2', 'C2H5OH', 'C4H10', 'acetone', 'isopropanol', 'SO2', 'benzene', 'toluene',
  'hydrocarbon-oil', 'perfluoropolyether', 'silicone', 'D2', 'HF', 'HCN', 'NO', 'CH2O', 'SiH4', 'F2', 'PH3', 'N2O',
  'NO2', 'acetonitrile', 'CH3Cl', 'acetic-acid', 'isobutane', 'butanone', 'xylene', 'heptane', 'Cl2', 'BCl3',
  'NF3', 'CF4', 'CHF3', 'C2F6', 'C3F8', 'C4F8', 'SF6', 'SiF4', 'WF6', 'Kr', 'Xe', 'HBr', 'B2H6', 'AsH3',
  'dichloromethane', 'chloroform', 'CCl4', 'trichloroethylene', 'trichloroethane', 'CCl2F2',
  'tetramethylsilane', 'hexamethyldisiloxane', 'hexamethyldisilazane', 'octamethylcyclotetrasiloxane',
  'decamethylcyclopentasiloxane', 'octamethyltrisiloxane', 'tetraethoxysilane', 'phenyl-silicone', 'phthalate',
  'Hg',
];

const byId = new Map<string, CatalogueGas>(WRITTEN.map((gas) => [gas.id, gas]));

/** The entry of an id that the catalogue is known to hold. */
export const gasById = (id: GasId): CatalogueGas => byId.get(id) as CatalogueGas;

/** All gases and mixtures, in the order in which they were added. */
export const GASES: readonly CatalogueGas[] = ORDER.map(gasById);

/** Changes whenever any number, name or source of the catalogue does: a reading names the facts that made it. */
export const CATALOGUE_VERSION: string = fingerprint(JSON.stringify([GASES, SOURCES]));
