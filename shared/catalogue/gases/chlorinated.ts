/** Chlorinated solvents and refrigerants. How the numbers are meant: see `CatalogueGas`. */
import { gas } from '../entry.ts';

export const CHLORINATED_COMPOUNDS = [
  gas({
    id: 'CH3Cl',
    name: 'chloromethane',
    formula: 'CH3Cl',
    aliases: ['methyl chloride'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 50.487, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          12: 3.3, 13: 5.4, 14: 8.41, 15: 72.38, 16: 1, 35: 6.21, 36: 1.6, 37: 1.9, 47: 7.11, 48: 3.4, 49: 11.41,
          50: 100, 51: 3.8, 52: 32,
        },
        source: 'nistWebBookWithIsotopes',
      },
    ],
    relativeSensitivity: { value: 2.77, low: 2.77, high: 3.1, quality: 'fair', source: 'atomFit' },
    organic: true,
    hazards: ['toxic', 'flammable'],
  }),
  gas({
    id: 'dichloromethane',
    name: 'dichloromethane',
    formula: 'CH2Cl2',
    aliases: ['DCM', 'methylene chloride'],
    kind: 'solvent',
    molarMassGramsPerMole: { value: 84.932, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 42,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          42: 3, 47: 13.31, 48: 7.41, 49: 100, 50: 3.4, 51: 30.93, 83: 1.8, 84: 57.96, 85: 1.9, 86: 36.64,
          88: 5.91,
        },
        source: 'massBankJp002342',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 35,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          35: 14.61, 36: 0.4, 37: 5.41, 41: 3.2, 42: 2.5, 47: 22.02, 48: 9.61, 49: 100, 50: 0.4, 51: 28.43,
          84: 60.16, 85: 2.3, 88: 5.81,
        },
        source: 'massBankJp000970',
      },
    ],
    relativeSensitivity: { value: 3.99, low: 3.7, high: 3.99, quality: 'fair', source: 'atomFit' },
    organic: true,
    hazards: ['toxic'],
  }),
  gas({
    id: 'chloroform',
    name: 'trichloromethane',
    formula: 'CHCl3',
    aliases: [],
    kind: 'solvent',
    molarMassGramsPerMole: { value: 119.377, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 35,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          35: 4.2, 36: 1.7, 37: 1.5, 47: 21.02, 48: 9.91, 49: 7.11, 50: 3.3, 82: 3.5, 83: 100, 84: 3.4, 85: 64.36,
          86: 1.1, 87: 10.31, 117: 1.1, 118: 1.8, 119: 1.1, 120: 1.5,
        },
        source: 'massBankJp002105',
      },
    ],
    relativeSensitivity: { value: 5.21, low: 4.8, high: 5.21, quality: 'fair', source: 'atomFit' },
    organic: true,
    hazards: ['toxic'],
  }),
  gas({
    id: 'CCl4',
    name: 'tetrachloromethane',
    formula: 'CCl4',
    aliases: ['carbon tetrachloride'],
    kind: 'solvent',
    molarMassGramsPerMole: { value: 153.822, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 12,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          12: 1.8, 35: 10.91, 37: 3.3, 47: 20.82, 49: 7.11, 82: 25.83, 83: 3, 84: 16.92, 86: 2.4, 117: 100,
          119: 94.59, 121: 30.33, 123: 3.2,
        },
        source: 'massBankJp007671',
      },
    ],
    relativeSensitivity: { value: 6.44, low: 6, high: 6.44, quality: 'fair', source: 'atomFit' },
    organic: true,
    hazards: ['toxic'],
  }),
  gas({
    id: 'trichloroethylene',
    name: 'trichloroethylene',
    formula: 'C2HCl3',
    aliases: ['TCE', 'trichloroethene'],
    kind: 'solvent',
    molarMassGramsPerMole: { value: 131.388, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 24,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          24: 1.7, 25: 8.81, 35: 5.11, 36: 1.5, 37: 1.8, 47: 8.21, 48: 2.5, 49: 2.9, 59: 5.61, 60: 37.24, 61: 2.9,
          62: 11.91, 65: 1.5, 66: 1.5, 82: 1.4, 83: 1.2, 84: 1.1, 94: 8.01, 95: 100, 96: 7.51, 97: 64.46, 98: 2.3,
          99: 10.21, 130: 87.49, 131: 2.4, 132: 83.78, 133: 1.9, 134: 26.63, 136: 3,
        },
        source: 'massBankJp002102',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 47,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          47: 5.51, 48: 1.9, 49: 1.9, 59: 3.4, 60: 28.03, 61: 2, 62: 9.01, 65: 2.4, 66: 2.8, 82: 1.3, 83: 1.1,
          94: 6.61, 95: 100, 96: 6.41, 97: 66.07, 98: 2.1, 99: 10.41, 130: 98.9, 131: 2.6, 132: 98.2, 133: 2.2,
          134: 32.23, 136: 3.4,
        },
        source: 'massBankJp004907',
      },
    ],
    relativeSensitivity: { value: 5.91, low: 5.91, high: 5.91, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: ['toxic'],
  }),
  gas({
    id: 'trichloroethane',
    name: '1,1,1-trichloroethane',
    formula: 'C2H3Cl3',
    aliases: ['methyl chloroform'],
    kind: 'solvent',
    molarMassGramsPerMole: { value: 133.404, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 25,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          25: 3.7, 26: 11.81, 27: 7.51, 35: 0.9, 36: 2.7, 37: 3.3, 47: 3.8, 60: 1, 61: 51.25, 62: 6.91, 63: 16.32,
          97: 100, 98: 3.2, 99: 60.96, 101: 10.2, 117: 10.71, 119: 10.21, 121: 3.3,
        },
        source: 'massBankJp000957',
      },
    ],
    relativeSensitivity: { value: 6.34, low: 6.34, high: 6.34, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: ['toxic'],
  }),
  // The cross section says 4.36, a remembered gauge factor 2.7.
  gas({
    id: 'CCl2F2',
    name: 'dichlorodifluoromethane',
    formula: 'CCl2F2',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 120.913, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 31,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          31: 16.32, 35: 22.02, 37: 6.71, 47: 0.9, 49: 2.2, 50: 24.62, 66: 6.81, 85: 100, 87: 30.93, 101: 7.61,
          103: 4.3,
        },
        source: 'massBankJp000967',
      },
    ],
    relativeSensitivity: { value: 4.36, low: 2.7, high: 4.361, quality: 'conflicting', source: 'nistSrd107' },
    organic: true,
    hazards: ['asphyxiant'],
  }),
] as const;
