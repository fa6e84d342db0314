/** Solvents and cleaning agents. How the numbers are meant: see `CatalogueGas`. */
import { gas } from '../entry.ts';

export const SOLVENTS = [
  gas({
    id: 'CH3OH',
    name: 'methanol',
    formula: 'CH4O',
    aliases: ['CH4O', 'MeOH', 'methyl alcohol'],
    kind: 'solvent',
    molarMassGramsPerMole: { value: 32.042, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          2: 0.3, 12: 0.2, 13: 0.6, 14: 1.69, 15: 12.39, 16: 0.1, 17: 0.3, 18: 0.7, 19: 0.1, 28: 4.59, 29: 44.59,
          30: 6.49, 31: 100, 32: 74.4, 33: 1.19, 34: 0.1,
        },
        source: 'nistWebBook',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          12: 1.3, 13: 2.5, 14: 5.11, 15: 24.72, 17: 1.5, 18: 1.4, 28: 5.01, 29: 51.25, 30: 7.01, 31: 100,
          32: 73.77, 33: 1.6,
        },
        source: 'massBankJp008889',
      },
    ],
    relativeSensitivity: { value: 2, low: 1.8, high: 2, quality: 'fair', source: 'atomFit' },
    organic: true,
    hazards: ['toxic', 'flammable'],
  }),
  gas({
    id: 'C2H5OH',
    name: 'ethanol',
    formula: 'C2H6O',
    aliases: ['C2H6O', 'EtOH', 'ethyl alcohol'],
    kind: 'solvent',
    molarMassGramsPerMole: { value: 46.069, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          12: 0.2, 13: 1.39, 14: 1.45, 15: 6.64, 17: 0.7, 18: 0.55, 19: 2.79, 24: 0.61, 25: 2.46, 26: 9.85,
          27: 22.41, 28: 3.45, 29: 29.85, 30: 8.12, 31: 100, 33: 0.31, 41: 1.37, 42: 4.74, 43: 11.44, 44: 0.71,
          45: 51.5, 46: 21.63, 47: 0.73,
        },
        source: 'nistWebBook',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 14,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          14: 2.6, 15: 5.01, 19: 3.9, 26: 4.9, 27: 18.02, 28: 5.51, 29: 11.91, 30: 5.11, 31: 100, 32: 1, 42: 3,
          43: 8.51, 45: 49.65, 46: 18.22, 47: 1.4,
        },
        source: 'massBankJp006778',
      },
    ],
    relativeSensitivity: { value: 3.12, low: 3.12, high: 3.6, quality: 'fair', source: 'atomFit' },
    organic: true,
    hazards: ['flammable'],
  }),
  // 58/43 spreads from 25 to 50 % between the three records.
  gas({
    id: 'acetone',
    name: 'acetone',
    formula: 'C3H6O',
    aliases: ['propanone', '(CH3)2CO', 'CH3COCH3'],
    kind: 'solvent',
    molarMassGramsPerMole: { value: 58.079, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 14,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          14: 3.1, 15: 23.22, 26: 3.1, 27: 5.51, 28: 2.8, 29: 4.4, 39: 3.9, 41: 5.01, 42: 6.31, 43: 100, 44: 3.7,
          55: 3.5, 56: 1.7, 57: 5.91, 58: 30.03, 59: 1.4,
        },
        source: 'massBankJp007680',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 14,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          14: 3.9, 15: 20.72, 26: 5.21, 27: 7.91, 28: 2.9, 37: 1.5, 38: 1.7, 39: 4.3, 41: 1.4, 42: 7.71, 43: 100,
          44: 2.3, 58: 24.62,
        },
        source: 'massBankJp006441',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 42,
        peaks: { 42: 6.51, 43: 100, 44: 1.2, 57: 1.3, 58: 50.45, 59: 2 },
        source: 'massBankJp002344',
      },
    ],
    relativeSensitivity: { value: 3.81, low: 3.6, high: 3.81, quality: 'fair', source: 'atomFit' },
    organic: true,
    hazards: ['flammable'],
  }),
  gas({
    id: 'isopropanol',
    name: 'isopropanol',
    formula: 'C3H8O',
    aliases: ['IPA', '2-propanol', 'propan-2-ol', 'isopropyl alcohol'],
    kind: 'solvent',
    molarMassGramsPerMole: { value: 60.095, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 14,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          14: 1.3, 15: 5.71, 19: 8.11, 27: 13.11, 29: 8.01, 31: 5.31, 38: 1.6, 39: 5.51, 41: 8.31, 42: 3.6,
          43: 18.22, 44: 2.7, 45: 100, 46: 2.5, 59: 3.3,
        },
        source: 'massBankJp007677',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 14,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          14: 1.6, 15: 5.71, 19: 7.51, 26: 0.2, 27: 12.71, 28: 3.7, 29: 7.91, 31: 0.6, 37: 1, 38: 1.6, 39: 5.31,
          41: 0.7, 42: 2, 43: 10.91, 44: 4.2, 45: 100, 46: 2.3, 59: 3.7, 60: 0.7,
        },
        source: 'massBankJp000271',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 15,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          15: 3.4, 19: 2.9, 26: 1.4, 27: 8.61, 29: 6.31, 31: 3.5, 38: 1.4, 39: 5.61, 41: 7.21, 42: 3.6, 43: 15.82,
          44: 4.4, 45: 100, 46: 2.6, 57: 1.1, 59: 3.9,
        },
        source: 'massBankJp007108',
      },
    ],
    relativeSensitivity: { value: 4.24, low: 4.24, high: 4.24, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: ['flammable'],
  }),
  // m/z 18 of the record is probably water that was left in the instrument.
  gas({
    id: 'butanone',
    name: '2-butanone',
    formula: 'C4H8O',
    aliases: ['MEK', 'methyl ethyl ketone'],
    kind: 'solvent',
    molarMassGramsPerMole: { value: 72.106, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 15,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          15: 3, 18: 3.3, 26: 1.1, 27: 4.6, 28: 1.4, 29: 14.31, 39: 1.3, 41: 1.2, 42: 3.3, 43: 100, 44: 2.6,
          57: 8.31, 71: 1, 72: 28.03, 73: 1.6,
        },
        source: 'massBankJp001803',
      },
    ],
    relativeSensitivity: { value: 4.94, low: 4.94, high: 4.94, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: ['flammable'],
  }),
  gas({
    id: 'acetic-acid',
    name: 'acetic acid',
    formula: 'C2H4O2',
    aliases: ['CH3COOH', 'ethanoic acid'],
    kind: 'solvent',
    molarMassGramsPerMole: { value: 60.052, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 13,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          13: 3, 14: 6.81, 15: 27.93, 16: 2.3, 17: 1.3, 28: 2.2, 29: 10.41, 31: 3.7, 40: 1.1, 41: 3.6, 42: 12.11,
          43: 100, 44: 3.7, 45: 86.79, 46: 1.1, 60: 50.25, 61: 1,
        },
        source: 'massBankJp009174',
      },
    ],
    relativeSensitivity: { value: 3.14, low: 3.14, high: 3.14, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: ['corrosive', 'flammable'],
  }),
  // m/z 40 is 50 % in the first record and 5 % in the second: one of them must be wrong.
  gas({
    id: 'acetonitrile',
    name: 'acetonitrile',
    formula: 'C2H3N',
    aliases: ['CH3CN', 'MeCN'],
    kind: 'solvent',
    molarMassGramsPerMole: { value: 41.052, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          12: 1.49, 13: 0.99, 14: 5.49, 15: 1.09, 24: 0.7, 25: 1.29, 26: 1.59, 27: 0.99, 28: 2.19, 38: 9.29,
          39: 17.69, 40: 50.4, 41: 100, 42: 2.69,
        },
        source: 'nistWebBook',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          12: 5.01, 13: 3.7, 14: 11.61, 15: 0.3, 24: 1, 25: 2.1, 26: 3.5, 27: 0.1, 28: 2.5, 38: 21.02, 39: 19.52,
          40: 5.11, 41: 100, 42: 2.6,
        },
        source: 'massBankJp003999',
      },
    ],
    relativeSensitivity: { value: 2.56, low: 2.56, high: 2.56, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: ['toxic', 'flammable'],
  }),
  gas({
    id: 'CH2O',
    name: 'formaldehyde',
    formula: 'CH2O',
    aliases: ['HCHO'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 30.026, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 12: 1, 13: 1, 14: 1, 15: 2, 28: 24, 29: 100, 30: 58, 31: 0.5 },
        source: 'nistWebBook',
      },
    ],
    relativeSensitivity: { value: 1.65, low: 1.65, high: 1.651, quality: 'fair', source: 'nistSrd107' },
    organic: true,
    hazards: ['toxic', 'flammable'],
  }),
  // The CRC gauge factor, 3.8, is far below the ratio of cross sections.
  gas({
    id: 'benzene',
    name: 'benzene',
    formula: 'C6H6',
    aliases: [],
    kind: 'solvent',
    molarMassGramsPerMole: { value: 78.112, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 26,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          26: 1.1, 27: 1.5, 37: 2.1, 38: 3.4, 39: 10.91, 49: 1.6, 50: 11.51, 51: 14.81, 52: 18.82, 63: 2.1,
          73: 1.5, 74: 4.3, 75: 1.6, 76: 4.6, 77: 21.22, 78: 100, 79: 6.51,
        },
        source: 'massBankJp002103',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 36,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          36: 1.8, 37: 6.51, 38: 7.41, 39: 15.22, 49: 6.91, 50: 19.12, 51: 25.23, 52: 20.52, 61: 2.6, 62: 9.91,
          63: 6.51, 64: 3.8, 73: 2.6, 74: 7.31, 75: 2.4, 76: 5.91, 77: 22.92, 78: 100, 79: 7.41,
        },
        source: 'massBankJp008793',
      },
    ],
    relativeSensitivity: { value: 5.99, low: 3.8, high: 5.991, quality: 'conflicting', source: 'nistSrd107' },
    organic: true,
    hazards: ['toxic', 'flammable'],
  }),
  // The second record shows four times as much of m/z 65: 12 and 50 % of 91.
  gas({
    id: 'toluene',
    name: 'toluene',
    formula: 'C7H8',
    aliases: ['methylbenzene'],
    kind: 'solvent',
    molarMassGramsPerMole: { value: 92.139, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 38,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          38: 1.3, 39: 8.41, 40: 1, 41: 1.2, 45: 2.3, 46: 1.3, 50: 2.3, 51: 5.01, 52: 1.5, 62: 1.7, 63: 5.31,
          64: 1.2, 65: 11.71, 66: 1.2, 89: 3.3, 90: 2.3, 91: 100, 92: 87.09, 93: 7.01,
        },
        source: 'massBankJp006808',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 45,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          45: 8.91, 46: 9.21, 49: 1.2, 50: 11.61, 51: 22.82, 52: 6.11, 53: 3.6, 61: 5.01, 62: 10.21, 63: 26.93,
          64: 6.11, 65: 49.55, 66: 5.31, 75: 1.1, 77: 2, 89: 3.8, 90: 2.3, 91: 100, 92: 71.57, 93: 5.41,
        },
        source: 'massBankJp004693',
      },
    ],
    betweenMasses: 1,
    relativeSensitivity: { value: 6.58, low: 6.58, high: 6.8, quality: 'fair', source: 'atomFit' },
    organic: true,
    hazards: ['toxic', 'flammable'],
  }),
  gas({
    id: 'xylene',
    name: 'p-xylene',
    formula: 'C8H10',
    aliases: ['1,4-dimethylbenzene', 'para-xylene'],
    kind: 'solvent',
    molarMassGramsPerMole: { value: 106.165, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 27,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          27: 3.9, 38: 1, 39: 7.31, 41: 1.3, 50: 3.1, 51: 9.81, 52: 3.9, 53: 2.3, 62: 1.2, 63: 3.5, 65: 5.81,
          77: 11.91, 78: 5.01, 79: 8.81, 89: 1.5, 91: 100, 92: 7.41, 102: 1.1, 103: 6.51, 104: 2.2, 105: 25.13,
          106: 50.45, 107: 4.3,
        },
        source: 'massBankJp000209',
      },
    ],
    relativeSensitivity: { value: 7.7, low: 7.7, high: 7.8, quality: 'fair', source: 'atomFit' },
    organic: true,
    hazards: ['toxic', 'flammable'],
  }),
  gas({
    id: 'heptane',
    name: 'n-heptane',
    formula: 'C7H16',
    aliases: [],
    kind: 'solvent',
    molarMassGramsPerMole: { value: 100.202, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 15,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          15: 1.6, 26: 1.7, 27: 33.03, 28: 13.21, 29: 44.24, 39: 20.52, 40: 2.4, 41: 55.56, 42: 23.82, 43: 100,
          44: 2.7, 51: 1.5, 53: 2.2, 55: 9.11, 56: 24.72, 57: 46.35, 58: 1.8, 70: 17.72, 71: 39.04, 72: 1.9,
          85: 1.3, 100: 9.01,
        },
        source: 'massBankJp008568',
      },
    ],
    relativeSensitivity: { value: 8.28, low: 8.28, high: 8.28, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: ['flammable'],
  }),
] as const;
