/** How gases are written and said. A gas that has no word is written from its formula. */
import { SHORT, SPOKEN } from '../strings/gases.ts';

/** An id may be any word, `constructor` included. */
const wordOf = (words: Readonly<Record<string, string>>, id: string): string | undefined =>
  Object.hasOwn(words, id) ? words[id] : undefined;

const SUBSCRIPTS = '₀₁₂₃₄₅₆₇₈₉';
/** A formula is elements with counts and nothing else; ids of mixtures hold lower-case words. */
const FORMULA = /^(?:[A-Z][a-z]?\d*)+$/;

/** Digits that follow a letter become subscripts: `C2H6` → `C₂H₆`. */
const subscripted = (formula: string): string =>
  formula.replace(/(?<=[A-Za-z)])\d+/g, (digits) => [...digits].map((d) => SUBSCRIPTS[Number(d)]).join(''));

/** As in the strip, on an axis or at a line's end. */
export function gasLabel(id: string): string {
  return wordOf(SHORT, id) ?? (FORMULA.test(id) ? subscripted(id) : id.replace(/-/g, ' '));
}

/** In full, for tables and choices: `H₂O`, `hydrocarbon oil`. */
export function gasTitle(id: string): string {
  return FORMULA.test(id) ? gasLabel(id) : (wordOf(SPOKEN, id) ?? id.replace(/-/g, ' '));
}

/** As said in a sentence. */
export const gasSpoken = (id: string): string => wordOf(SPOKEN, id) ?? gasLabel(id);

/** Formulae inside a server's sentence, with subscripts: only those that are known gases with a digit. */
const IN_TEXT = new RegExp(
  `\\b(${Object.keys(SPOKEN)
    .filter((id) => /\d/.test(id))
    .sort((a, b) => b.length - a.length)
    .join('|')})\\b`,
  'g',
);
export const withSubscripts = (text: string): string => text.replace(IN_TEXT, (id) => gasLabel(id));
