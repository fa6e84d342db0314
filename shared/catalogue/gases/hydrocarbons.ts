/** Light hydrocarbons. How the numbers are meant: see `CatalogueGas`. */
import { gas } from '../entry.ts';

export const LIGHT_HYDROCARBONS = [
  // The CRC gauge factor, 0.61, is far below the ratio of cross sections.
  gas({
    id: 'C2H2',
    name: 'acetylene',
    formula: 'C2H2',
    aliases: ['ethyne'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 26.037, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 12: 0.7, 13: 3.2, 14: 0.1, 24: 5, 25: 19.12, 26: 100, 27: 2.2, 28: 0.1 },
        source: 'nistWebBook',
      },
    ],
    relativeSensitivity: { value: 1.74, low: 0.61, high: 1.744, quality: 'conflicting', source: 'nistSrd107' },
    organic: true,
    hazards: ['flammable'],
  }),
  // The CRC gauge factor, 1.3, is far below the ratio of cross sections.
  gas({
    id: 'C2H4',
    name: 'ethylene',
    formula: 'C2H4',
    aliases: ['ethene'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 28.053, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          2: 0.1, 12: 0.5, 13: 0.9, 14: 2.1, 15: 0.3, 24: 2.3, 25: 7.81, 26: 52.95, 27: 62.37, 28: 100, 29: 2.3,
          30: 0.1,
        },
        source: 'nistWebBook',
      },
    ],
    relativeSensitivity: { value: 2.04, low: 1.3, high: 2.04, quality: 'conflicting', source: 'nistSrd107' },
    organic: true,
    hazards: ['flammable'],
  }),
  gas({
    id: 'C2H6',
    name: 'ethane',
    formula: 'C2H6',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 30.069, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          2: 0.2, 12: 0.4, 13: 1, 14: 3, 15: 4.4, 16: 0.1, 24: 0.5, 25: 3.5, 26: 23.22, 27: 33.23, 28: 100,
          29: 21.52, 30: 26.22, 31: 0.5,
        },
        source: 'nistWebBook',
      },
      {
        energyElectronVolt: 80,
        lowMassCutoff: 13,
        peaks: { 13: 1.2, 14: 3.4, 15: 4.6, 25: 4.2, 26: 23.02, 27: 33.33, 28: 100, 29: 21.72, 30: 26.23 },
        source: 'massBankJp001578',
      },
    ],
    relativeSensitivity: { value: 2.6, low: 2.561, high: 2.6, quality: 'good', source: 'crcRedhead' },
    organic: true,
    hazards: ['flammable'],
  }),
  // The CRC gauge factor, 1.8, is far below the ratio of cross sections.
  gas({
    id: 'C3H6',
    name: 'propene',
    formula: 'C3H6',
    aliases: ['propylene'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 42.08, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          2: 0.4, 12: 0.9, 13: 1.4, 14: 3.4, 15: 5.5, 16: 0.2, 19: 2.2, 20: 1.8, 21: 0.1, 24: 0.3, 25: 1.8,
          26: 10.51, 27: 38.73, 28: 1.4, 36: 1.8, 37: 12.71, 38: 19.42, 39: 72.58, 40: 29.13, 41: 100, 42: 70.37,
          43: 2.3, 44: 0.1,
        },
        source: 'nistWebBook',
      },
      {
        energyElectronVolt: 80,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          12: 1.1, 13: 1.6, 14: 3.5, 15: 5.01, 19: 2.9, 20: 2, 25: 2.6, 26: 11.61, 27: 26.53, 28: 2.2, 36: 3,
          37: 15.82, 38: 21.32, 39: 73.47, 40: 30.33, 41: 100, 42: 66.17, 43: 2.3,
        },
        source: 'massBankJp001581',
      },
    ],
    relativeSensitivity: { value: 3.48, low: 1.8, high: 3.483, quality: 'conflicting', source: 'nistSrd107' },
    organic: true,
    hazards: ['flammable'],
  }),
  gas({
    id: 'C3H8',
    name: 'propane',
    formula: 'C3H8',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 44.096, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          12: 0.3, 13: 0.6, 14: 2.2, 15: 7.21, 16: 0.4, 19: 0.7, 20: 0.8, 21: 0.1, 24: 0.1, 25: 0.5, 26: 9.11,
          27: 41.94, 28: 58.76, 29: 100, 30: 2.2, 36: 0.3, 37: 3, 38: 5.3, 39: 18.92, 40: 2.8, 41: 13.41, 42: 6.01,
          43: 23.12, 44: 27.42, 45: 0.9,
        },
        source: 'nistWebBook',
      },
    ],
    relativeSensitivity: { value: 3.5, low: 3.437, high: 4.2, quality: 'good', source: 'crcRedhead' },
    organic: true,
    hazards: ['flammable'],
  }),
  gas({
    id: 'C4H10',
    name: 'n-butane',
    formula: 'C4H10',
    aliases: ['butane'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 58.122, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 80,
        lowMassCutoff: 14,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          14: 1, 15: 6.21, 26: 7.41, 27: 37.44, 28: 30.43, 29: 39.54, 37: 1.7, 38: 2.8, 39: 17.42, 40: 2.5,
          41: 31.53, 42: 14.01, 43: 100, 44: 3.4, 50: 2, 51: 1.5, 55: 1.2, 57: 3.2, 58: 16.82, 59: 0.8,
        },
        source: 'massBankJp001572',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 14,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          14: 1, 15: 1.3, 26: 4.1, 28: 26.43, 29: 36.74, 41: 28.23, 42: 28.23, 43: 100, 44: 3.2, 57: 2.6,
          58: 13.91, 59: 0.8,
        },
        source: 'massBankJp008954',
      },
    ],
    relativeSensitivity: { value: 4.3, low: 4.3, high: 4.91, quality: 'fair', source: 'crcRedhead' },
    organic: true,
    hazards: ['flammable'],
  }),
  gas({
    id: 'isobutane',
    name: 'isobutane',
    formula: 'C4H10',
    aliases: ['i-C4H10', '2-methylpropane'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 58.122, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 80,
        lowMassCutoff: 14,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          14: 1.2, 15: 6.91, 26: 2.7, 27: 25.63, 28: 3.3, 29: 5.71, 37: 2.3, 38: 4.1, 39: 22.72, 40: 3.4,
          41: 41.94, 42: 34.93, 43: 100, 44: 3.3, 50: 1.4, 51: 1, 57: 3.3, 58: 3.9, 59: 0.2,
        },
        source: 'massBankJp001573',
      },
    ],
    relativeSensitivity: { value: 4.91, low: 4.91, high: 4.91, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: ['flammable'],
  }),
] as const;
