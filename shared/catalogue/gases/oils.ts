/** Oils, silicones and plasticisers. How the numbers are meant: see `CatalogueGas`. */
import { gas } from '../entry.ts';

export const OILS_AND_SILICONES = [
  // n-Tetracosane and n-eicosane stand in for pump oil; the last record is a mineral oil as it is met in practice.
  gas({
    id: 'hydrocarbon-oil',
    name: 'hydrocarbon oil',
    formula: 'CnH2n+2',
    aliases: ['mineral oil', 'pump oil', 'C24H50', 'n-tetracosane'],
    kind: 'mixture',
    molarMassGramsPerMole: { value: 338.655, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 27,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          27: 3.9, 29: 12.21, 39: 3.2, 41: 32.83, 42: 11.71, 43: 78.88, 44: 2.9, 53: 1.3, 54: 2.6, 55: 26.53,
          56: 11.91, 57: 100, 58: 2.4, 67: 1.3, 68: 2, 69: 12.51, 70: 14.71, 71: 52.25, 72: 1.3, 82: 1.3, 83: 7.01,
          84: 3.2, 85: 34.73, 86: 1.3, 96: 1.1, 97: 4.9, 98: 2.1, 99: 10.51, 111: 1.6, 112: 2.2, 113: 3.3,
          126: 1.1, 127: 3.1, 140: 1.2, 154: 1, 155: 1.7, 182: 1.2, 183: 1.6, 197: 1.2,
        },
        source: 'massBankJp009121',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 27,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          27: 7.21, 29: 20.22, 39: 4.1, 41: 40.14, 42: 9.91, 43: 90.39, 44: 2.2, 53: 1.6, 54: 2.2, 55: 26.73,
          56: 16.12, 57: 100, 58: 4.6, 67: 1.9, 68: 1.8, 69: 11.51, 70: 11.11, 71: 58.76, 72: 2.2, 83: 6.81,
          84: 5.91, 85: 37.14, 86: 1.9, 97: 4.2, 98: 4, 99: 9.91, 112: 2.1, 113: 5.71, 127: 3.9, 141: 2.2,
          155: 1.6, 169: 1.4,
        },
        source: 'massBankJp006889',
      },
      {
        energyElectronVolt: null,
        lowMassCutoff: 27,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          27: 15, 29: 30, 39: 15, 41: 60, 42: 18, 43: 95, 55: 65, 56: 30, 57: 100, 67: 12, 69: 40, 70: 18, 71: 55,
          81: 15, 83: 30, 85: 35, 95: 15, 97: 20, 99: 8, 109: 8, 111: 10,
        },
        source: 'mineralOilPractice',
      },
    ],
    relativeSensitivity: { value: 27.35, low: 27.35, high: 27.35, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: [],
  }),
  // CF3+ (69) leads; 47 is COF+. The ratios are indicative only.
  gas({
    id: 'perfluoropolyether',
    name: 'perfluoropolyether',
    formula: '(C3F6O)n',
    aliases: ['PFPE'],
    kind: 'mixture',
    molarMassGramsPerMole: null,
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 31,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          31: 15, 47: 15, 50: 8, 66: 3, 69: 100, 70: 1.1, 97: 8, 100: 12, 119: 20, 131: 3, 135: 2, 147: 5, 150: 5,
          169: 20,
        },
        source: 'literatureRemembered',
      },
    ],
    relativeSensitivity: { value: 17, low: 4.3, high: 43, quality: 'none', source: 'fourRepeatUnits' },
    organic: true,
    hazards: [],
  }),
  // The set 73, 147, 207, 221, 281, 355 is well known; the ratios are indicative only.
  gas({
    id: 'silicone',
    name: 'silicone',
    formula: '(C2H6OSi)n',
    aliases: ['PDMS', 'polydimethylsiloxane', 'dimethyl silicone', 'silicone oil'],
    kind: 'mixture',
    molarMassGramsPerMole: null,
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 28,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          28: 5, 43: 10, 45: 15, 59: 12, 73: 100, 74: 8, 75: 8, 117: 5, 131: 8, 133: 10, 147: 60, 148: 9, 149: 5,
          191: 8, 193: 6, 207: 40, 221: 30, 267: 10, 281: 35, 355: 15,
        },
        source: 'literatureRemembered',
      },
    ],
    relativeSensitivity: { value: 16.8, low: 4.2, high: 42, quality: 'none', source: 'fourRepeatUnits' },
    organic: true,
    hazards: [],
  }),
  // Diffusion-pump fluid; the ratios are indicative only, the heavy part lies beyond 300.
  gas({
    id: 'phenyl-silicone',
    name: 'phenyl silicone fluid',
    formula: 'C33H34O2Si3',
    aliases: ['pentaphenyltrimethyltrisiloxane'],
    kind: 'mixture',
    molarMassGramsPerMole: { value: 546.88, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 39,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          39: 15, 43: 25, 50: 10, 51: 15, 55: 5, 77: 30, 78: 100, 91: 15, 105: 10, 135: 20, 154: 5, 181: 5,
          197: 25, 198: 5,
        },
        source: 'literatureRemembered',
      },
    ],
    relativeSensitivity: { value: 34.4, low: 34.4, high: 34.4, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: [],
  }),
  gas({
    id: 'tetramethylsilane',
    name: 'tetramethylsilane',
    formula: 'C4H12Si',
    aliases: ['TMS', 'Si(CH3)4'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 88.224, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 15,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          15: 6.91, 27: 1.3, 28: 1.1, 29: 2.9, 31: 1.9, 42: 2.4, 43: 9.71, 44: 2.4, 45: 12.61, 53: 1.8, 55: 1.8,
          57: 1.3, 58: 1.6, 59: 1.9, 73: 100, 74: 8.31, 75: 3.6, 88: 1,
        },
        source: 'massBankJp008891',
      },
    ],
    relativeSensitivity: { value: 6.16, low: 6.16, high: 6.165, quality: 'fair', source: 'nistSrd107' },
    organic: true,
    hazards: ['flammable'],
  }),
  gas({
    id: 'hexamethyldisiloxane',
    name: 'hexamethyldisiloxane',
    formula: 'C6H18OSi2',
    aliases: ['HMDSO'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 162.378, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 43,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          43: 2, 44: 1, 45: 5.61, 52: 3.5, 59: 6.01, 66: 10.41, 73: 14.51, 74: 1.2, 75: 1.3, 87: 1, 117: 1,
          131: 4.3, 132: 1, 133: 1.2, 147: 100, 148: 15.52, 149: 7.71, 150: 1,
        },
        source: 'massBankJp008845',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 51,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          51: 1.4, 52: 5.11, 58: 1.8, 59: 13.01, 66: 14.41, 67: 2, 72: 1.2, 73: 17.82, 74: 3, 75: 2.2, 87: 1.5,
          103: 1.2, 105: 1, 117: 1.5, 131: 5.01, 133: 2, 147: 100, 148: 16.52, 149: 8.01,
        },
        source: 'massBankJp001422',
      },
    ],
    betweenMasses: 1.5,
    relativeSensitivity: { value: 10.64, low: 10.64, high: 10.64, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: ['flammable'],
  }),
  gas({
    id: 'hexamethyldisilazane',
    name: 'hexamethyldisilazane',
    formula: 'C6H19NSi2',
    aliases: ['HMDS'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 161.393, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 45,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          45: 1.4, 51: 1.4, 59: 1.7, 66: 5.21, 73: 4.8, 74: 3, 75: 3.4, 86: 1, 100: 3.7, 113: 1.3, 116: 1.3,
          130: 22.12, 131: 3.5, 132: 2.2, 146: 100, 147: 17.62, 148: 8.71, 149: 1.1, 161: 3,
        },
        source: 'massBankJp004666',
      },
      {
        energyElectronVolt: 70,
        lowMassCutoff: 43,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          43: 3.6, 44: 1.8, 45: 7.31, 59: 5.61, 66: 4.1, 73: 12.81, 74: 6.81, 75: 10.11, 86: 1.6, 100: 4.5,
          113: 1.7, 116: 1.3, 130: 22.32, 131: 4.3, 132: 2.2, 146: 100, 147: 38.64, 148: 11.11, 149: 2.5, 161: 2.2,
        },
        source: 'massBankJp008844',
      },
    ],
    relativeSensitivity: { value: 10.93, low: 10.93, high: 10.93, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: ['flammable', 'corrosive'],
  }),
  gas({
    id: 'octamethylcyclotetrasiloxane',
    name: 'octamethylcyclotetrasiloxane',
    formula: 'C8H24O4Si4',
    aliases: ['D4'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 296.616, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 50,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          73: 17.1, 74: 1, 119: 1.9, 133: 6.6, 191: 23.3, 192: 3.6, 193: 15.8, 194: 2.5, 205: 8.7, 207: 13.3,
          208: 2.2, 209: 8.2, 249: 26.6, 265: 37, 267: 8.2, 281: 100, 282: 20.1,
        },
        source: 'massBankNl0017',
      },
    ],
    relativeSensitivity: { value: 16.84, low: 16.84, high: 16.84, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: ['flammable'],
  }),
  gas({
    id: 'decamethylcyclopentasiloxane',
    name: 'decamethylcyclopentasiloxane',
    formula: 'C10H30O5Si5',
    aliases: ['D5'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 370.77, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 50,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          59: 3.3, 73: 100, 74: 9.4, 191: 2.4, 193: 1.2, 205: 1.1, 207: 1.8, 249: 3.1, 267: 45.8, 285: 5.4,
          339: 1.6,
        },
        source: 'massBankNl0019',
      },
    ],
    relativeSensitivity: { value: 21.05, low: 21.05, high: 21.05, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: [],
  }),
  gas({
    id: 'octamethyltrisiloxane',
    name: 'octamethyltrisiloxane',
    formula: 'C8H24O2Si3',
    aliases: ['L3', 'MDM'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 236.532, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 50,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          73: 52.4, 75: 2.9, 115: 2.6, 117: 4, 119: 1.2, 131: 5, 133: 8.2, 145: 1.2, 147: 5.7, 151: 2.5, 175: 1.6,
          177: 1.1, 221: 100, 222: 15.3,
        },
        source: 'massBankNl0016',
      },
    ],
    relativeSensitivity: { value: 14.85, low: 14.85, high: 14.85, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: ['flammable'],
  }),
  // 149 is strong here too: a phthalate shows 57, 71 and 167 beside it, this one 163, 179 and 193.
  gas({
    id: 'tetraethoxysilane',
    name: 'tetraethoxysilane',
    formula: 'C8H20O4Si',
    aliases: ['TEOS', 'tetraethyl orthosilicate'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 208.328, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: 70,
        lowMassCutoff: 14,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          14: 3, 15: 10.51, 26: 3.3, 27: 14.41, 28: 2.9, 29: 25.63, 31: 1.9, 42: 1.8, 43: 24.02, 45: 12.21, 47: 1,
          58: 6.21, 61: 2.2, 62: 8.41, 63: 18.82, 64: 1.3, 73: 2.3, 75: 2.2, 77: 3.5, 79: 36.04, 80: 1.9, 81: 1.7,
          82: 2.1, 89: 4.1, 90: 2.4, 91: 9.71, 93: 3.5, 103: 2.4, 105: 6.91, 107: 10.61, 117: 1.2, 118: 1.5,
          119: 25.03, 120: 2.5, 121: 5.01, 123: 3.6, 133: 2.6, 135: 17.42, 136: 1.8, 137: 2.7, 147: 1.7,
          149: 71.27, 150: 7.71, 151: 7.21, 163: 44.94, 164: 5.41, 165: 7.51, 177: 1.2, 179: 29.63, 180: 4.6,
          181: 2.1, 193: 100, 194: 13.21, 195: 5.01, 207: 8.41, 208: 25.53, 209: 5.51, 210: 1.5,
        },
        source: 'massBankJp010345',
      },
    ],
    relativeSensitivity: { value: 12.71, low: 12.71, high: 12.71, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: ['flammable', 'toxic'],
  }),
  gas({
    id: 'phthalate',
    name: 'bis(2-ethylhexyl) phthalate',
    formula: 'C24H38O4',
    aliases: ['DEHP', 'bis(2-ethylhexyl) phthalate', 'dioctyl phthalate'],
    kind: 'gas',
    molarMassGramsPerMole: { value: 390.557, source: 'molarMassIupac2009' },
    records: [
      {
        energyElectronVolt: null,
        lowMassCutoff: 27,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          27: 5.11, 29: 16.02, 39: 2.8, 41: 25.53, 42: 5.11, 43: 38.54, 53: 1, 54: 1.2, 55: 18.32, 56: 9.91,
          57: 57.66, 58: 2.4, 65: 2.4, 67: 1.2, 68: 1.2, 69: 6.91, 70: 31.13, 71: 36.14, 72: 1.9, 76: 3.5, 77: 1.6,
          82: 2.2, 83: 11.81, 84: 5.71, 93: 1.9, 97: 1, 104: 5.81, 105: 2.2, 112: 11.91, 113: 18.32, 114: 1.5,
          121: 2, 122: 2, 132: 2.6, 133: 2.7, 149: 100, 150: 14.11, 151: 1.5, 167: 40.34, 168: 3.4, 279: 11.91,
          280: 1.7,
        },
        source: 'massBankJp001701',
      },
      {
        energyElectronVolt: null,
        lowMassCutoff: 28,
        // biome-ignore format: a spectrum reads best in lines of peaks
        peaks: {
          28: 23.02, 29: 22.02, 41: 30.03, 43: 30.03, 55: 18.52, 57: 47.05, 70: 28.03, 71: 26.03, 83: 4.2,
          104: 9.21, 113: 11.01, 149: 100, 150: 16.52, 167: 26.03, 279: 11.01,
        },
        source: 'massBankJp003085',
      },
    ],
    relativeSensitivity: { value: 26.6, low: 26.6, high: 26.6, quality: 'weak', source: 'atomFit' },
    organic: true,
    hazards: ['toxic'],
  }),
] as const;
