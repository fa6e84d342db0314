/** Process gases and their by-products. How the numbers are meant: see `CatalogueGas`. */
import { gas } from '../entry.ts';

export const PROCESS_GASES = [
  // The fit says 0.5, a remembered gauge factor says 1.4.
  gas({
    id: 'HF',
    name: 'hydrogen fluoride',
    formula: 'HF',
    aliases: ['hydrofluoric acid'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 20.006, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 19: 5, 20: 100 },
        source: 'literatureRemembered',
      },
    ],
    relativeSensitivity: { value: 0.5, low: 0.5, high: 1.4, quality: 'conflicting', source: 'atomFit' },
    organic: false,
    hazards: ['toxic', 'corrosive'],
  }),
  gas({
    id: 'F2',
    name: 'fluorine',
    formula: 'F2',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 37.997, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 19: 50, 38: 100 },
        source: 'literatureRemembered',
      },
    ],
    relativeSensitivity: { value: 0.57, low: 0.57, high: 0.57, quality: 'weak', source: 'atomFit' },
    organic: false,
    hazards: ['toxic', 'corrosive', 'oxidiser'],
  }),
  // A gauge factor of 0.68 circulates; the cross section contradicts it, and chlorine attacks cathodes.
  gas({
    id: 'Cl2',
    name: 'chlorine',
    formula: 'Cl2',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 70.906, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 35: 82.88, 37: 26.42, 70: 100, 72: 63.86, 74: 10.2 },
        source: 'nistWebBook',
      },
    ],
    relativeSensitivity: { value: 3.4, low: 0.68, high: 3.4, quality: 'weak', source: 'siglo2013' },
    organic: false,
    hazards: ['toxic', 'corrosive', 'oxidiser'],
  }),
  gas({
    id: 'HBr',
    name: 'hydrogen bromide',
    formula: 'HBr',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 80.911, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 79: 40, 80: 100, 81: 38.93, 82: 97.28 },
        source: 'literatureRemembered',
      },
    ],
    relativeSensitivity: { value: 1.94, low: 1.94, high: 1.94, quality: 'poor', source: 'electronCount' },
    organic: false,
    hazards: ['toxic', 'corrosive'],
  }),
  // Walls hydrolyse it: HCl (36, 38) comes with it.
  gas({
    id: 'BCl3',
    name: 'boron trichloride',
    formula: 'BCl3',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 117.17, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          10: 2.6, 11: 10.45, 35: 19.77, 37: 6.33, 45: 6.56, 46: 26.4, 47: 2.1, 48: 8.45, 80: 24.84, 81: 100,
          82: 15.9, 83: 63.99, 84: 2.54, 85: 10.24, 115: 4.71, 116: 18.94, 117: 4.52, 118: 18.18, 119: 1.45,
          120: 5.82, 121: 0.15, 122: 0.62,
        },
        source: 'literatureRemembered',
      },
    ],
    relativeSensitivity: { value: 4.61, low: 4.61, high: 4.612, quality: 'fair', source: 'nistSrd107' },
    organic: false,
    hazards: ['toxic', 'corrosive'],
  }),
  // The records differ mainly at 19 and 33, where energetic fragments are collected differently.
  gas({
    id: 'NF3',
    name: 'nitrogen trifluoride',
    formula: 'NF3',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 71.002, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 14: 9.5, 19: 28.6, 33: 66.7, 52: 100, 71: 33.3 },
        source: 'tarnovsky1994',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 14,
        peaks: { 14: 9, 19: 7.9, 33: 39.2, 52: 100, 53: 0.4, 71: 30.5 },
        source: 'webBookRemembered',
      },
    ],
    relativeSensitivity: { value: 1.1, low: 1.1, high: 1.39, quality: 'weak', source: 'tarnovskySum' },
    organic: false,
    hazards: ['oxidiser', 'toxic'],
  }),
  gas({
    id: 'CF4',
    name: 'tetrafluoromethane',
    formula: 'CF4',
    aliases: ['carbon tetrafluoride'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 88.004, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 12: 2.5, 19: 6.9, 25: 1, 31: 4.9, 50: 11.8, 69: 100, 70: 1.1 },
        source: 'webBookRemembered',
      },
    ],
    relativeSensitivity: { value: 1.87, low: 1.869, high: 1.87, quality: 'fair', source: 'nistSrd107' },
    organic: true,
    hazards: ['asphyxiant'],
  }),
  // 51 and 69 are of similar height; which one is larger differs between instruments.
  gas({
    id: 'CHF3',
    name: 'trifluoromethane',
    formula: 'CHF3',
    aliases: ['fluoroform'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 70.014, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 12: 3, 13: 1, 19: 3, 31: 48, 32: 3, 50: 14, 51: 100, 52: 1, 69: 90, 70: 1 },
        source: 'webBookRemembered',
      },
    ],
    relativeSensitivity: { value: 1.77, low: 1.77, high: 1.77, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: ['asphyxiant'],
  }),
  gas({
    id: 'C2F6',
    name: 'hexafluoroethane',
    formula: 'C2F6',
    aliases: ['perfluoroethane'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 138.012, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 12: 2, 19: 2, 31: 18, 50: 10, 69: 100, 70: 1.1, 100: 0.6, 119: 41, 120: 0.9 },
        source: 'webBookRemembered',
      },
    ],
    relativeSensitivity: { value: 3.01, low: 3.01, high: 3.011, quality: 'fair', source: 'nistSrd107' },
    organic: true,
    hazards: ['asphyxiant'],
  }),
  gas({
    id: 'C3F8',
    name: 'octafluoropropane',
    formula: 'C3F8',
    aliases: ['perfluoropropane'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 188.019, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 12: 2, 19: 2, 31: 29, 50: 9, 69: 100, 70: 1.1, 100: 8, 119: 9, 131: 1, 150: 1, 169: 24, 170: 0.8 },
        source: 'webBookRemembered',
      },
    ],
    relativeSensitivity: { value: 4.33, low: 4.33, high: 4.334, quality: 'fair', source: 'nistSrd107' },
    organic: true,
    hazards: ['asphyxiant'],
  }),
  gas({
    id: 'C4F8',
    name: 'octafluorocyclobutane',
    formula: 'C4F8',
    aliases: ['c-C4F8', 'perfluorocyclobutane'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 200.03, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 12: 3, 31: 55, 50: 14, 69: 23, 93: 5, 100: 100, 101: 2.2, 131: 87, 132: 2.9, 181: 0.2 },
        source: 'webBookRemembered',
      },
    ],
    relativeSensitivity: { value: 5.08, low: 5.08, high: 5.08, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: ['asphyxiant'],
  }),
  // There is no parent ion at 146. 54 is SF4++, 35 is SF2++.
  gas({
    id: 'SF6',
    name: 'sulfur hexafluoride',
    formula: 'SF6',
    aliases: ['sulphur hexafluoride'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 146.055, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          19: 5, 32: 6, 35: 3, 51: 8, 54: 4, 70: 7, 89: 25, 91: 1.1, 108: 8.5, 110: 0.4, 127: 100, 128: 0.8,
          129: 4.5,
        },
        source: 'webBookRemembered',
      },
    ],
    betweenMasses: 0.5,
    relativeSensitivity: { value: 2.3, low: 2.3, high: 2.62, quality: 'good', source: 'crcRedhead' },
    organic: false,
    hazards: ['asphyxiant'],
  }),
  gas({
    id: 'SiF4',
    name: 'silicon tetrafluoride',
    formula: 'SiF4',
    aliases: ['tetrafluorosilane'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 104.079, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          19: 3.25, 28: 4, 29: 0.2, 30: 0.13, 47: 8, 48: 0.41, 49: 0.27, 66: 5, 67: 0.25, 68: 0.17, 85: 100,
          86: 5.08, 87: 3.35, 104: 2, 105: 0.1,
        },
        source: 'sif4Remembered',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 47,
        peaks: { 47: 5, 66: 1.4, 85: 100, 86: 5.1, 87: 3.4, 104: 1.5 },
        source: 'webBookRemembered',
      },
    ],
    relativeSensitivity: { value: 2.34, low: 2.34, high: 2.34, quality: 'fair', source: 'nistSrd107' },
    organic: true,
    hazards: ['toxic', 'corrosive'],
  }),
  // The large peaks lie at 277-281. In a shorter scan HF (20), SiF4 (85) and F+ (19) are the practical signs.
  gas({
    id: 'WF6',
    name: 'tungsten hexafluoride',
    formula: 'WF6',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 297.832, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          182: 3.46, 183: 1.87, 184: 4, 186: 3.71, 201: 4.32, 202: 2.34, 203: 5, 205: 4.64, 220: 4.32, 221: 2.34,
          222: 5, 224: 4.64, 239: 5.19, 240: 2.8, 241: 6, 243: 5.57, 258: 6.92, 259: 3.74, 260: 8, 262: 7.42,
          275: 0.39, 277: 86.49, 278: 46.7, 279: 100, 281: 92.79,
        },
        source: 'literatureRemembered',
      },
    ],
    relativeSensitivity: { value: 5.89, low: 5.89, high: 5.89, quality: 'poor', source: 'electronCount' },
    organic: false,
    hazards: ['toxic', 'corrosive'],
  }),
  gas({
    id: 'SiH4',
    name: 'silane',
    formula: 'SiH4',
    aliases: ['monosilane'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 32.117, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 2: 1.5, 14: 0.8, 28: 27.52, 29: 28.73, 30: 100, 31: 79.08, 32: 7.11, 33: 2.4, 34: 0.1 },
        source: 'nistWebBook',
      },
    ],
    relativeSensitivity: { value: 2.08, low: 2.079, high: 2.08, quality: 'fair', source: 'nistSrd107' },
    organic: true,
    hazards: ['pyrophoric', 'flammable', 'toxic'],
  }),
  gas({
    id: 'PH3',
    name: 'phosphine',
    formula: 'PH3',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 33.998, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 16: 0.5, 17: 0.3, 31: 32.13, 32: 12.71, 33: 33.13, 34: 100 },
        source: 'nistWebBook',
      },
    ],
    relativeSensitivity: { value: 2.6, low: 2.6, high: 2.6, quality: 'poor', source: 'summers1969' },
    organic: false,
    hazards: ['toxic', 'pyrophoric', 'flammable'],
  }),
  gas({
    id: 'AsH3',
    name: 'arsine',
    formula: 'AsH3',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 77.945, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        peaks: { 75: 38, 76: 100, 77: 29, 78: 89 },
        source: 'literatureRemembered',
      },
    ],
    relativeSensitivity: { value: 1.94, low: 1.94, high: 1.94, quality: 'poor', source: 'electronCount' },
    organic: false,
    hazards: ['toxic', 'flammable'],
  }),
  gas({
    id: 'B2H6',
    name: 'diborane',
    formula: 'B2H6',
    aliases: [],
    kind: 'gas',
    molarMassGramsPerMole: { value: 27.67, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 0,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          10: 6.31, 11: 28.43, 12: 18.12, 13: 24.42, 14: 0.7, 15: 0.1, 21: 1.9, 22: 11.21, 23: 45.74, 24: 89.69,
          25: 56.76, 26: 100, 27: 97.5, 28: 0.3,
        },
        source: 'nistWebBook',
      },
    ],
    relativeSensitivity: { value: 2.84, low: 2.84, high: 2.84, quality: 'weak', source: 'atomFit' },
    organic: false,
    hazards: ['toxic', 'pyrophoric', 'flammable'],
  }),
] as const;
