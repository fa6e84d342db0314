import { catalogue } from './catalogue.ts';

/** Gases as they are said in a sentence, by their id; formulae are the same in every language. */
export const SPOKEN: Readonly<Record<string, string>> = catalogue({
  H2: 'hydrogen',
  D2: 'deuterium',
  He: 'helium',
  CH4: 'methane',
  NH3: 'ammonia',
  H2O: 'water',
  Ne: 'neon',
  CO: 'carbon monoxide',
  N2: 'nitrogen',
  C2H4: 'ethylene',
  C2H6: 'ethane',
  NO: 'nitric oxide',
  O2: 'oxygen',
  H2S: 'hydrogen sulphide',
  Ar: 'argon',
  CO2: 'carbon dioxide',
  N2O: 'nitrous oxide',
  SO2: 'sulphur dioxide',
  Kr: 'krypton',
  Xe: 'xenon',
  SF6: 'sulphur hexafluoride',
  NF3: 'nitrogen trifluoride',
  acetone: 'acetone',
  'acetic-acid': 'acetic acid',
  isopropanol: 'isopropanol',
  benzene: 'benzene',
  toluene: 'toluene',
  trichloroethylene: 'trichloroethylene',
  'hydrocarbon-oil': 'hydrocarbon oil',
  perfluoropolyether: 'perfluoropolyether',
  silicone: 'silicone',
});

/** As in the strip, where there is no formula. */
export const SHORT: Readonly<Record<string, string>> = catalogue({
  acetone: 'acet.',
  'acetic-acid': 'AcOH',
  isopropanol: 'IPA',
  benzene: 'benz.',
  toluene: 'tol.',
  trichloroethylene: 'TCE',
  'hydrocarbon-oil': 'oil',
  perfluoropolyether: 'PFPE',
  silicone: 'sil',
});
