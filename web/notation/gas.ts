/** How gases are written and said. A gas that is not in the table is written from its formula. */
interface GasName {
  /** Short, as in the strip. */
  readonly short: string;
  /** As spoken in a sentence. */
  readonly spoken: string;
}

const NAMES: Readonly<Record<string, GasName>> = {
  H2: { short: 'H₂', spoken: 'hydrogen' },
  D2: { short: 'D₂', spoken: 'deuterium' },
  He: { short: 'He', spoken: 'helium' },
  CH4: { short: 'CH₄', spoken: 'methane' },
  NH3: { short: 'NH₃', spoken: 'ammonia' },
  H2O: { short: 'H₂O', spoken: 'water' },
  Ne: { short: 'Ne', spoken: 'neon' },
  CO: { short: 'CO', spoken: 'carbon monoxide' },
  N2: { short: 'N₂', spoken: 'nitrogen' },
  C2H4: { short: 'C₂H₄', spoken: 'ethylene' },
  C2H6: { short: 'C₂H₆', spoken: 'ethane' },
  NO: { short: 'NO', spoken: 'nitric oxide' },
  O2: { short: 'O₂', spoken: 'oxygen' },
  H2S: { short: 'H₂S', spoken: 'hydrogen sulphide' },
  Ar: { short: 'Ar', spoken: 'argon' },
  CO2: { short: 'CO₂', spoken: 'carbon dioxide' },
  N2O: { short: 'N₂O', spoken: 'nitrous oxide' },
  SO2: { short: 'SO₂', spoken: 'sulphur dioxide' },
  Kr: { short: 'Kr', spoken: 'krypton' },
  Xe: { short: 'Xe', spoken: 'xenon' },
  SF6: { short: 'SF₆', spoken: 'sulphur hexafluoride' },
  NF3: { short: 'NF₃', spoken: 'nitrogen trifluoride' },
  acetone: { short: 'acet.', spoken: 'acetone' },
  'acetic-acid': { short: 'AcOH', spoken: 'acetic acid' },
  isopropanol: { short: 'IPA', spoken: 'isopropanol' },
  benzene: { short: 'benz.', spoken: 'benzene' },
  toluene: { short: 'tol.', spoken: 'toluene' },
  trichloroethylene: { short: 'TCE', spoken: 'trichloroethylene' },
  'hydrocarbon-oil': { short: 'oil', spoken: 'hydrocarbon oil' },
  perfluoropolyether: { short: 'PFPE', spoken: 'perfluoropolyether' },
  silicone: { short: 'sil', spoken: 'silicone' },
};

/** An id may be any word, `constructor` included. */
const nameOf = (id: string): GasName | undefined => (Object.hasOwn(NAMES, id) ? NAMES[id] : undefined);

const SUBSCRIPTS = '₀₁₂₃₄₅₆₇₈₉';
/** A formula is elements with counts and nothing else; ids of mixtures hold lower-case words. */
const FORMULA = /^(?:[A-Z][a-z]?\d*)+$/;

/** Digits that follow a letter become subscripts: `C2H6` → `C₂H₆`. */
const subscripted = (formula: string): string =>
  formula.replace(/(?<=[A-Za-z)])\d+/g, (digits) => [...digits].map((d) => SUBSCRIPTS[Number(d)]).join(''));

/** As in the strip, on an axis or at a line's end. */
export function gasLabel(id: string): string {
  const known = nameOf(id);
  if (known) return known.short;
  return FORMULA.test(id) ? subscripted(id) : id.replace(/-/g, ' ');
}

/** In full, for tables and choices: `H₂O`, `hydrocarbon oil`. */
export function gasTitle(id: string): string {
  return FORMULA.test(id) ? gasLabel(id) : id.replace(/-/g, ' ');
}

/** As said in a sentence. */
export const gasSpoken = (id: string): string => nameOf(id)?.spoken ?? gasLabel(id);

/** Formulae inside a server's sentence, with subscripts: only those that are known gases with a digit. */
const IN_TEXT = new RegExp(
  `\\b(${Object.keys(NAMES)
    .filter((id) => /\d/.test(id))
    .sort((a, b) => b.length - a.length)
    .join('|')})\\b`,
  'g',
);
export const withSubscripts = (text: string): string => text.replace(IN_TEXT, (id) => gasLabel(id));
