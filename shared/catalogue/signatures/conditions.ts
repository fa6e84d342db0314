/**
 * The conditions of a vacuum system that a residual-gas record is asked about (common practice), and what the watch
 * makes of each: the signatures under which it is called, by what it is told from its look-alikes, and, where the record
 * cannot show it, why not. Decided in this order, so that what comes first is never taken for what comes later: is the
 * data fit, is it expected in this state, is it the analyser, is it air, a pump, water, organic, a process gas, unknown.
 */
import type { Signature } from '../../contract/words.ts';

/** In the order in which they are decided. */
export const DECISION_ORDER = [
  'data',
  'state',
  'artefact',
  'air',
  'pump',
  'water',
  'organic',
  'process gas',
  'unknown',
] as const;
export type DecisionStep = (typeof DECISION_ORDER)[number];

export interface VacuumCondition {
  readonly condition: string;
  readonly step: DecisionStep;
  /** Empty: it is never called, for the reason that `toldBy` gives. */
  readonly signatures: readonly Signature[];
  /** What in the record tells it, or why the record cannot. */
  readonly toldBy: string;
}

export const VACUUM_CONDITIONS: readonly VacuumCondition[] = [
  {
    condition: 'Gross air leak',
    step: 'air',
    signatures: ['air-leak'],
    toldBy: '28, 14, 40 and 32 in the proportion of air; inflow by argon, nitrogen and oxygen beside each other.',
  },
  {
    condition: 'Small air leak, argon only',
    step: 'air',
    signatures: ['air-leak', 'gas-inleak'],
    toldBy:
      'Means of 25 scans and of a day; what is argon alone stays an argon line, since nothing in the record can add the nitrogen that carbon monoxide hides.',
  },
  {
    condition: 'Virtual leak (trapped volume)',
    step: 'air',
    signatures: ['air-leak', 'gas-inleak'],
    toldBy: 'Air, or the vent gas, whose inflow falls with the time since the vent; a leak through a wall stays.',
  },
  {
    condition: 'Water, unbaked or wet',
    step: 'water',
    signatures: ['water', 'pump-down-late'],
    toldBy: '17/18 of its own pattern, no argon with it; fall against time since the vent.',
  },
  {
    condition: 'Permeation through seals or glass',
    step: 'water',
    signatures: ['helium', 'water'],
    toldBy:
      'Steady, so it is part of the baseline and no change; a seal that ages or warms shows as a slow rise of helium or water.',
  },
  {
    condition: 'Hydrocarbon oil streaming back',
    step: 'organic',
    signatures: ['hydrocarbon-oil'],
    toldBy: 'Combs 14 apart at 43, 57, 71 and 41, 55, 69; no 119 or 169, no 73 with 147.',
  },
  {
    condition: 'Methane and light hydrocarbons',
    step: 'organic',
    signatures: ['methane'],
    toldBy: '15 marks methane, since oxygen shares 16; 26, 27, 29 and 30 the hydrocarbons of two and three carbons.',
  },
  {
    condition: 'Perfluoropolyether',
    step: 'organic',
    signatures: ['perfluoropolyether'],
    toldBy: '69 with 47, 97, 119 and 169; without 41 and 55.',
  },
  {
    condition: 'Silicone',
    step: 'organic',
    signatures: ['silicone'],
    toldBy: '73 with 147, 207, 221 or 281; phenyl silicones by 78, 135 and 197.',
  },
  {
    condition: 'Solvents',
    step: 'organic',
    signatures: ['solvent'],
    toldBy: 'The pattern of one solvent; methanol by 31, which oxygen at 32 has not.',
  },
  {
    condition: 'Photoresist and polymer',
    step: 'organic',
    signatures: ['solvent', 'hydrocarbon-oil', 'unexplained-peaks'],
    toldBy:
      'Residues of solvents have names; the resin itself has no pattern of its own and stays unexplained. That it is locked to a step of the process is not in the scans.',
  },
  {
    condition: 'Process gas past its valve',
    step: 'process gas',
    signatures: ['gas-inleak', 'helium', 'hydrogen', 'perfluoropolyether'],
    toldBy:
      'One gas without the gases that air would bring, while the state says idle; every gas that the chamber names is watched.',
  },
  {
    condition: 'Residue of a cleaning gas',
    step: 'process gas',
    signatures: ['gas-inleak'],
    toldBy:
      'HF at 20 with 19 (argon and neon are taken off by their own peaks), F2 at 38, SiF4 at 85, NF3 at 52; COF2 has no record in the catalogue and stays unexplained.',
  },
  {
    condition: 'Cooling-water leak',
    step: 'water',
    signatures: ['water'],
    toldBy: 'Water at once to several times the usual, or in bursts, without air; it does not fall as a wet wall does.',
  },
  {
    condition: 'Cryopump near saturation or warm',
    step: 'pump',
    signatures: ['pumping-loss', 'pump-down-late'],
    toldBy:
      'Hydrogen and helium first, then nitrogen, carbon monoxide and argon, water last; recovery after gas steps.',
  },
  {
    condition: 'Turbopump failing or backing pressure high',
    step: 'pump',
    signatures: ['pumping-loss'],
    toldBy: 'Light gases first, by exp(−β√M), or every gas alike; the gauge rises with them.',
  },
  {
    condition: 'Ion pump lets go argon',
    step: 'pump',
    signatures: ['argon-bursts'],
    toldBy: 'Argon alone in pulses at regular distances, no oxygen with it.',
  },
  {
    condition: 'Getter saturated',
    step: 'pump',
    signatures: ['pumping-loss'],
    toldBy: 'Carbon monoxide, then nitrogen, then hydrogen rise; methane and argon, which it never took, do not.',
  },
  {
    condition: 'Ioniser burns in or is degassed',
    step: 'artefact',
    signatures: ['analyser-outgassing'],
    toldBy: 'Oxides of carbon, methane and hydrogen without the gauge; they fall within hours.',
  },
  {
    condition: 'Ions from surfaces',
    step: 'artefact',
    signatures: ['analyser-outgassing'],
    toldBy: '16, 19, 23, 39 or 35 with 37, without the gases that would bring them, and without the gauge.',
  },
  {
    condition: 'Helium of a leak check',
    step: 'state',
    signatures: ['helium'],
    toldBy: 'Silent while the state says leak check; a rise at 4 outside of one is called.',
  },
  {
    condition: 'Vent, purge or transfer',
    step: 'state',
    signatures: [],
    toldBy: 'Expected in its state: nothing is judged there, and afterwards the tail is foreseen.',
  },
  {
    condition: 'A chamber that gets cleaner',
    step: 'state',
    signatures: [],
    toldBy:
      'Good news and no alarm: the baseline follows it within hours; a fall of all peaks alike is asked of the gain.',
  },
  {
    condition: 'Hydrogen rises',
    step: 'pump',
    signatures: ['hydrogen'],
    toldBy: '2 alone, beyond its temperature; with helium, methane and water in their order it is the pump.',
  },
  {
    condition: 'Oxides of carbon rise',
    step: 'process gas',
    signatures: ['carbon-oxides'],
    toldBy: '28 with 12 and not 14, or 44; the gauge rises with them.',
  },
  {
    condition: 'Sulfur compounds, hydrogen cyanide, mercury',
    step: 'process gas',
    signatures: ['gas-inleak'],
    toldBy: '64 with 48, 34 with 33, 27 with 26, 198 to 204: competing by name, unlikely where nobody handles them.',
  },
  {
    condition: 'Fault of the analyser',
    step: 'data',
    signatures: [
      'silent',
      'frozen',
      'noise',
      'detector-saturated',
      'mass-shift',
      'sensitivity-drift',
      'impossible-pressure',
    ],
    toldBy: 'Repeats, scatter, cut-off tops, places of the peaks, one factor for all: judged before any gas.',
  },
  {
    condition: 'Gauge and analyser disagree',
    step: 'data',
    signatures: ['impossible-pressure', 'sensitivity-drift'],
    toldBy: 'Their ratio has moved while the shares of the gases have stayed, or partial pressures exceed the total.',
  },
];
