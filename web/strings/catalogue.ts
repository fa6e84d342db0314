/**
 * All words of the page stand in this folder, a file for each room: sentences whole, a function where something is
 * filled in. What a room needs is read in with the room, so that the first page carries no words of the others.
 */
import { asksForStretched, stretched } from './stretch.ts';

/** Functions may take anything and give a sentence. */
// biome-ignore lint/suspicious/noExplicitAny: arguments are typed where the words are written
type Said = (...args: any[]) => string;
export interface Words {
  readonly [key: string]: string | Said | readonly string[] | Words;
}

type Word = Words[string];

function inLanguage(word: Word): Word {
  if (typeof word === 'string') return stretched(word);
  if (typeof word === 'function') return (...args: unknown[]) => stretched(word(...args));
  if (Array.isArray(word)) return word.map(stretched);
  return allOf(word as Words);
}

const allOf = (words: Words): Words =>
  Object.fromEntries(Object.entries(words).map(([key, word]) => [key, inLanguage(word)]));

/** The words as they are written; or in the made-up language, when the page is opened for testing. */
export const catalogue = <const T extends Words>(words: T): T => (asksForStretched() ? (allOf(words) as T) : words);
