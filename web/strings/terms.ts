import type { VerifiedCause } from '../../shared/contract/alerts.ts';
import type { Consequence, Responder } from '../../shared/contract/rationalisation.ts';
import type { AlertState, Health, Priority, Role, Signature } from '../../shared/contract/words.ts';
import { catalogue } from './catalogue.ts';

/** The words of the contract as a reader sees them. */
export const PRIORITY_WORD: Readonly<Record<Priority, string>> = catalogue({
  high: 'High',
  medium: 'Medium',
  low: 'Low',
});
export const PRIORITY_MEANING: Readonly<Record<Priority, string>> = catalogue({
  high: 'act now',
  medium: 'act this shift',
  low: 'plan',
});

export const SIGNATURE_TITLE: Readonly<Record<Signature, string>> = catalogue({
  'air-leak': 'Air leak',
  'gas-inleak': 'Gas from a line',
  water: 'Water',
  'hydrocarbon-oil': 'Hydrocarbon oil',
  perfluoropolyether: 'Perfluoropolyether',
  silicone: 'Silicone',
  solvent: 'Solvent',
  helium: 'Helium',
  hydrogen: 'Hydrogen',
  'carbon-oxides': 'Carbon oxides',
  methane: 'Methane',
  'argon-bursts': 'Argon bursts',
  'pumping-loss': 'Loss of pumping',
  'pump-down-late': 'Pump-down is late',
  limit: 'Limit passed',
  'unexplained-peaks': 'Unexplained peaks',
  silent: 'Silent analyser',
  frozen: 'Frozen readings',
  'mass-shift': 'Mass scale has moved',
  'sensitivity-drift': 'Sensitivity drifts',
  'impossible-pressure': 'Impossible pressure',
  'detector-saturated': 'Detector saturated',
  'analyser-outgassing': 'Analyser outgasses',
  noise: 'Noise',
});

export const HEALTH_TITLE: Readonly<Record<Health, string>> = catalogue({
  attention: 'Needs a person',
  blind: 'Blind',
  stale: 'Stale',
  changed: 'Changed',
  learning: 'Learning',
  unwatched: 'Not watched',
  rest: 'At rest',
});

/** Where an alert stands, as a person would say it; the standard's word stays the value. */
export const STATE_MEANING: Readonly<Record<AlertState, string>> = catalogue({
  unacknowledged: 'nobody has said that they know',
  acknowledged: 'somebody knows; the condition goes on',
  'returned-unacknowledged': 'back to usual by itself; nobody has seen it',
  normal: 'over',
  shelved: 'put aside until a set time',
  suppressed: 'held back by the operating state',
  'out-of-service': 'taken out of service',
});

export const ROLE_MAY: Readonly<Record<Role, string>> = catalogue({
  viewer: 'looks',
  operator: 'also acknowledges, shelves and signs rounds',
  engineer: 'also changes limits, baselines, calibrations and why alerts are raised',
  admin: 'also changes fleet, people and tokens',
  gateway: 'only sends scans',
});

/** What a person may find, beside the signatures. */
export const OTHER_CAUSE: Readonly<Record<Exclude<VerifiedCause, Signature>, string>> = catalogue({
  'trapped-volume': 'Trapped volume',
  'planned-work': 'Planned work',
  'false-alert': 'False alert',
  'not-found': 'Not found',
});

/** A verified cause as a reader sees it; an unknown word stays itself. */
export const causeTitle = (word: string): string =>
  ({ ...SIGNATURE_TITLE, ...OTHER_CAUSE })[word as VerifiedCause] ?? word;

/** To whom or to what the consequence comes. */
export const SEVERITY_MEANING: Readonly<Record<Consequence, string>> = catalogue({
  severe: 'people or equipment may come to harm',
  major: 'product or availability is lost',
  minor: 'neither of these soon',
});

export const RESPONDER_MEANING: Readonly<Record<Responder, string>> = catalogue({
  operator: 'the shift can answer it',
  engineer: 'it needs an engineer',
});
