/** What a sentence is made from when nothing special is known: tests lay over it what they ask about. */
import type { SentenceInput } from '../../shared/watch/sentence.ts';

export const plainSentence = (signature: SentenceInput['signature'], cause: string): SentenceInput => ({
  signature,
  cause,
  gases: [],
  changes: [],
  inflow: null,
  inflowBy: null,
  sureness: 'likely',
  runnerUp: null,
  growing: false,
  slow: false,
  oxygenEaten: false,
  amplitude: 1,
  masses: [],
  kappa: null,
  scaled: true,
});
