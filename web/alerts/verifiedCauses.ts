import type { VerifiedCause } from '../../shared/contract/alerts.ts';
import { SIGNATURES, type Signature } from '../../shared/contract/words.ts';

/** What may have been found, in the order in which a person would look for it. */
export const CAUSE_GROUPS: readonly (readonly [string, readonly VerifiedCause[]])[] = [
  ['Gas came in from outside', ['air-leak', 'gas-inleak', 'helium']],
  [
    'Gas came from inside or from a pump',
    [
      'trapped-volume',
      'water',
      'hydrocarbon-oil',
      'perfluoropolyether',
      'silicone',
      'solvent',
      'hydrogen',
      'methane',
      'carbon-oxides',
      'argon-bursts',
      'unexplained-peaks',
    ],
  ],
  ['The pumping, or a limit', ['pumping-loss', 'pump-down-late', 'limit']],
  [
    'The analyser, not the chamber',
    [
      'silent',
      'frozen',
      'mass-shift',
      'sensitivity-drift',
      'impossible-pressure',
      'detector-saturated',
      'analyser-outgassing',
      'noise',
    ],
  ],
  ['Nothing to repair', ['planned-work', 'false-alert', 'not-found']],
];

/** What each of the words beside the signatures means, so that they are used alike. */
export const CAUSE_HINT: Readonly<Partial<Record<VerifiedCause, string>>> = {
  'trapped-volume': 'gas let go slowly by a closed-in space: it shrinks by itself',
  'planned-work': 'it was true, and somebody had meant it',
  'false-alert': 'nothing had changed in the chamber or the analyser',
  'not-found': 'it was looked for and not found',
};

/** Only a case whose cause is a signature can be an example of one. */
export const isSignature = (word: string | null): word is Signature =>
  word !== null && (SIGNATURES as readonly string[]).includes(word);
