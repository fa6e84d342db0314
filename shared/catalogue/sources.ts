/**
 * Where every number of the catalogue comes from, full enough to find it again.
 * `published`: read in the named source or a public copy of it; `calculated`: worked out from published values;
 * `common practice` and `from memory`: not checked against a source.
 */
import type { Source } from './types.ts';

export const SOURCES = {
  atomFit: {
    kind: 'calculated',
    ref: 'sum of atomic contributions fitted to 49 total ionisation cross sections of NIST SRD 107 at 70 eV (rms 7 %, worst 14 %), over N2; an extrapolation for molecules of more than six carbon atoms',
  },
  circulatingList: {
    kind: 'common practice',
    ref: 'list of gauge factors in general circulation (N2 = 1), as remembered',
  },
  crcRedhead: {
    kind: 'published',
    ref: 'P. A. Redhead, relative sensitivity of Bayard-Alpert ionization gauges to various gases, CRC Handbook of Chemistry and Physics, section 15 (p. 15-12 of the 2005 edition): mean of 12 experimenters, single gauges differ by up to 15 %',
  },
  electronCount: {
    kind: 'from memory',
    ref: 'r = 0.6 Z/14 + 0.4 with Z electrons per molecule, formula as remembered from J. Vac. Sci. Technol. 8 (1971) 661; known to fail for molecules rich in hydrogen',
  },
  fourRepeatUnits: {
    kind: 'calculated',
    ref: 'assumption, no value is known: a vapour molecule of four repeat units (low: one, high: ten) with the sum of atomic contributions',
  },
  isotopeRatios: {
    kind: 'calculated',
    ref: 'first order, from isotopic abundances of M. Berglund and M. E. Wieser, Pure Appl. Chem. 83 (2011) 397 (IUPAC 2009)',
  },
  isotopeEnvelope: {
    kind: 'calculated',
    ref: 'isotopic abundances of M. Berglund and M. E. Wieser, Pure Appl. Chem. 83 (2011) 397 (IUPAC 2009); the share of doubly charged ions is from memory',
  },
  iupacPureAir: {
    kind: 'published',
    ref: 'composition of pure air, IUPAC Glossary of atmospheric chemistry terms, Pure Appl. Chem. 62 (1990) 2167 (Gold Book C01214)',
  },
  literatureRemembered: {
    kind: 'from memory',
    ref: '70 eV spectrum as remembered from the literature, not checked',
  },
  mineralOilPractice: {
    kind: 'common practice',
    ref: 'vapour of mineral oil from mechanical pumps: alkyl series 43, 57, 71, 85 with a stronger alkenyl series 41, 55, 69, 83, 97 than a pure alkane; figures as remembered',
  },
  molarMassIupac2009: {
    kind: 'calculated',
    ref: 'isotopic abundances of IUPAC 2009 (M. Berglund and M. E. Wieser, Pure Appl. Chem. 83 (2011) 397) and isotope masses of the Atomic Mass Evaluation',
  },
  nistSrd107: {
    kind: 'calculated',
    ref: 'NIST Electron-Impact Cross Section Database (SRD 107, doi 10.18434/T4KK5C): total ionisation cross section at 70 eV over that of N2, 2.508 A^2',
  },
  nistWebBook: {
    kind: 'published',
    ref: 'NIST Chemistry WebBook (SRD 69), electron-ionisation mass spectra of the NIST Mass Spectrometry Data Center, read in public copies, scaled to the largest peak',
  },
  nistWebBookWithIsotopes: {
    kind: 'published',
    ref: 'NIST Chemistry WebBook (SRD 69), electron-ionisation mass spectrum, read in public copies, scaled to the largest peak; isotope peaks that the copy lacked (O2: 33, 34; CH3Cl: 52) from IUPAC 2009 abundances',
  },
  sif4Remembered: {
    kind: 'from memory',
    ref: 'ion fractions as remembered, in line with R. Basner et al., J. Chem. Phys. 114 (2001) 1170 (SiF3+ leads, other fragments about ten times smaller); isotope envelope calculated',
  },
  siglo2013: {
    kind: 'calculated',
    ref: 'SIGLO database on LXCat (June 2013): ionisation cross section interpolated at 70 eV, over the SRD 107 value of N2',
  },
  summers1969: {
    kind: 'from memory',
    ref: 'R. L. Summers, NASA TN D-5285 (1969), compiled gauge sensitivities as remembered',
  },
  tarnovsky1994: {
    kind: 'published',
    ref: 'V. Tarnovsky, A. Levin, K. Becker, R. Basner, M. Schmidt, Int. J. Mass Spectrom. Ion Processes 133 (1994) 175: partial cross sections at 70 eV, scaled to NF2+; F+ and N+ are upper limits',
  },
  tarnovskySum: {
    kind: 'calculated',
    ref: 'between the sum of the partial cross sections of Tarnovsky et al. (1994) over N2 and the sum of atomic contributions',
  },
  webBookRemembered: {
    kind: 'from memory',
    ref: 'NIST Chemistry WebBook (SRD 69) electron-ionisation spectrum as remembered, not checked',
  },
  massBankJp000209: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP000209, electron ionisation, 70 eV',
  },
  massBankJp000271: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP000271, electron ionisation, 70 eV',
  },
  massBankJp000957: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP000957, electron ionisation, 70 eV; m/z 101 is set from chlorine isotopes, the record evidently lost a digit',
  },
  massBankJp000967: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP000967, electron ionisation, 70 eV',
  },
  massBankJp000970: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP000970, electron ionisation, 70 eV; m/z 86 of the record is evidently mis-keyed and left out',
  },
  massBankJp001422: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP001422, electron ionisation, 70 eV',
  },
  massBankJp001572: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP001572, electron ionisation, 80 eV',
  },
  massBankJp001573: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP001573, electron ionisation, 80 eV',
  },
  massBankJp001576: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP001576, electron ionisation, 80 eV',
  },
  massBankJp001577: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP001577, electron ionisation, 80 eV',
  },
  massBankJp001578: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP001578, electron ionisation, 80 eV',
  },
  massBankJp001581: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP001581, electron ionisation, 80 eV',
  },
  massBankJp001582: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP001582, electron ionisation, 80 eV',
  },
  massBankJp001701: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP001701, electron ionisation, energy not stated',
  },
  massBankJp001803: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP001803, electron ionisation, 70 eV',
  },
  massBankJp002102: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP002102, electron ionisation, 70 eV',
  },
  massBankJp002103: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP002103, electron ionisation, 70 eV',
  },
  massBankJp002105: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP002105, electron ionisation, 70 eV',
  },
  massBankJp002342: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP002342, electron ionisation, 70 eV',
  },
  massBankJp002344: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP002344, electron ionisation, 70 eV',
  },
  massBankJp003085: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP003085, electron ionisation, energy not stated',
  },
  massBankJp003999: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP003999, electron ionisation, 70 eV',
  },
  massBankJp004666: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP004666, electron ionisation, 70 eV',
  },
  massBankJp004693: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP004693, electron ionisation, 70 eV',
  },
  massBankJp004907: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP004907, electron ionisation, 70 eV',
  },
  massBankJp006441: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP006441, electron ionisation, 70 eV',
  },
  massBankJp006778: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP006778, electron ionisation, 70 eV',
  },
  massBankJp006808: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP006808, electron ionisation, 70 eV',
  },
  massBankJp006889: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP006889, electron ionisation, 70 eV',
  },
  massBankJp007108: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP007108, electron ionisation, 70 eV',
  },
  massBankJp007671: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP007671, electron ionisation, 70 eV',
  },
  massBankJp007677: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP007677, electron ionisation, 70 eV',
  },
  massBankJp007680: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP007680, electron ionisation, 70 eV',
  },
  massBankJp008568: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP008568, electron ionisation, 70 eV',
  },
  massBankJp008793: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP008793, electron ionisation, 70 eV',
  },
  massBankJp008844: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP008844, electron ionisation, 70 eV',
  },
  massBankJp008845: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP008845, electron ionisation, 70 eV',
  },
  massBankJp008889: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP008889, electron ionisation, 70 eV',
  },
  massBankJp008891: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP008891, electron ionisation, 70 eV',
  },
  massBankJp008954: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP008954, electron ionisation, 70 eV; m/z 27 and 39 of the record are evidently mis-keyed and left out',
  },
  massBankJp009121: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP009121, electron ionisation, 70 eV',
  },
  massBankJp009174: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP009174, electron ionisation, 70 eV',
  },
  massBankJp010345: {
    kind: 'published',
    ref: 'MassBank record MSBNK-Fac_Eng_Univ_Tokyo-JP010345, electron ionisation, 70 eV',
  },
  massBankNl0016: {
    kind: 'published',
    ref: 'MassBank record MSBNK-NILU-NL0016, electron ionisation, 70 eV, accurate masses rounded',
  },
  massBankNl0017: {
    kind: 'published',
    ref: 'MassBank record MSBNK-NILU-NL0017, electron ionisation, 70 eV, accurate masses rounded',
  },
  massBankNl0019: {
    kind: 'published',
    ref: 'MassBank record MSBNK-NILU-NL0019, electron ionisation, 70 eV, accurate masses rounded; m/z 355 and 356 were not in the extract that was read',
  },
} as const satisfies Record<string, Source>;

export type SourceId = keyof typeof SOURCES;
