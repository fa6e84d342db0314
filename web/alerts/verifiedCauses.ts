import type { VerifiedCause } from '../../shared/contract/alerts.ts';
import { SIGNATURES, type Signature } from '../../shared/contract/words.ts';
import { words } from '../strings/alertMoves.ts';

/** What may have been found, in the order in which a person would look for it. */
export const CAUSE_GROUPS: readonly (readonly [string, readonly VerifiedCause[]])[] = [
  [words.gasCameInFromOutside, ['air-leak', 'gas-inleak', 'helium']],
  [
    words.gasCameFromInside,
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
  [words.thePumpingOrALimit, ['pumping-loss', 'pump-down-late', 'limit']],
  [
    words.theAnalyserNotTheChamber,
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
  [words.nothingToRepair, ['planned-work', 'false-alert', 'not-found']],
];

/** What each of the words beside the signatures means, so that they are used alike. */
export const CAUSE_HINT: Readonly<Partial<Record<VerifiedCause, string>>> = {
  'trapped-volume': words.gasLetGoSlowly,
  'planned-work': words.itWasTrueAndSomebody,
  'false-alert': words.nothingHadChanged,
  'not-found': words.itWasLooked,
};

/** Only a case whose cause is a signature can be an example of one. */
export const isSignature = (word: string | null): word is Signature =>
  word !== null && (SIGNATURES as readonly string[]).includes(word);
