/** Noble gases and mercury: isotope envelopes. How the numbers are meant: see `CatalogueGas`. */
import { gas } from '../entry.ts';

export const NOBLE_GASES = [
  // Gauge factor 0.18, cross sections 0.13: further apart than gauges differ among themselves.
  gas({
    id: 'He',
    name: 'helium',
    formula: 'He',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 4.003, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 4: 100 },
        source: 'nistWebBook',
      },
    ],
    relativeSensitivity: { value: 0.18, low: 0.13, high: 0.18, quality: 'fair', source: 'crcRedhead' },
    organic: false,
    hazards: ['asphyxiant'],
  }),
  // Told from Ar++ and HF at m/z 20 by its isotope at 22.
  gas({
    id: 'Ne',
    name: 'neon',
    formula: 'Ne',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 20.18, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 10: 0.4, 20: 100, 21: 0.3, 22: 10.22 },
        source: 'isotopeEnvelope',
      },
    ],
    relativeSensitivity: { value: 0.31, low: 0.21, high: 0.31, quality: 'fair', source: 'crcRedhead' },
    organic: false,
    hazards: ['asphyxiant'],
  }),
  // Gauge factor 1.4, cross sections 1.07: 25 % on argon without calibration. Ar++/Ar+ runs from 5 to 20 %.
  gas({
    id: 'Ar',
    name: 'argon',
    formula: 'Ar',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 39.948, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 20: 14.62, 36: 0.3, 38: 0.05, 40: 100 },
        source: 'nistWebBook',
      },
    ],
    relativeSensitivity: { value: 1.4, low: 1.07, high: 1.4, quality: 'fair', source: 'crcRedhead' },
    organic: false,
    hazards: ['asphyxiant'],
  }),
  gas({
    id: 'Kr',
    name: 'krypton',
    formula: 'Kr',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 83.798, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 40: 0.32, 41: 1.63, 42: 8, 43: 2.43, 78: 0.62, 80: 4.01, 82: 20.34, 83: 20.18, 84: 100, 86: 30.32 },
        source: 'isotopeEnvelope',
      },
    ],
    betweenMasses: 1.61,
    relativeSensitivity: { value: 1.9, low: 1.63, high: 1.94, quality: 'fair', source: 'crcRedhead' },
    organic: false,
    hazards: ['asphyxiant'],
  }),
  gas({
    id: 'Xe',
    name: 'xenon',
    formula: 'Xe',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 131.293, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          64: 0.85, 65: 1.82, 66: 12, 67: 4.65, 68: 3.95, 124: 0.35, 126: 0.33, 128: 7.1, 129: 98.11, 130: 15.13,
          131: 78.91, 132: 100, 134: 38.78, 136: 32.92,
        },
        source: 'isotopeEnvelope',
      },
    ],
    betweenMasses: 21.24,
    relativeSensitivity: { value: 2.7, low: 2.04, high: 2.87, quality: 'fair', source: 'crcRedhead' },
    organic: false,
    hazards: ['asphyxiant'],
  }),
  gas({
    id: 'Hg',
    name: 'mercury',
    formula: 'Hg',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 200.599, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          99: 3.34, 100: 7.74, 101: 10, 102: 2.3, 196: 0.5, 198: 33.39, 199: 56.5, 200: 77.36, 201: 44.14,
          202: 100, 204: 23.01,
        },
        source: 'isotopeEnvelope',
      },
    ],
    betweenMasses: 10.06,
    relativeSensitivity: { value: 3.5, low: 3.5, high: 3.64, quality: 'fair', source: 'crcRedhead' },
    organic: false,
    hazards: ['toxic'],
  }),
] as const;
