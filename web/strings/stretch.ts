/**
 * A made-up language for testing the page: every word about 40 % longer, with letters that the page's own faces do
 * not hold. What still fits and is still read in it will fit in most languages; what shows up in plain letters was
 * not taken from the catalogue. Growth of 40 % for running text is common practice in localisation; short labels
 * can grow more.
 */
const GROWTH = 0.4;

const ACCENTED: Readonly<Record<string, string>> = {
  a: 'å',
  e: 'ë',
  i: 'ï',
  o: 'ö',
  u: 'ü',
  y: 'ÿ',
  A: 'Å',
  E: 'Ë',
  I: 'Ï',
  O: 'Ö',
  U: 'Ü',
};
/** Where a word has no vowel to lengthen. */
const FILLING = 'ø';
const DONE = /[åëïöüÿÅËÏÖÜø]/;

/** Units and gases are the same in every language. */
const UNIT = /^(?:Pa|mbar|Torr|u|s|min|h|d|l|m|mm|kB|MB|GB|V|A|Hz|C)$/;
/** Tags of rich text, addresses, runs of letters; everything else passes. */
const PIECES = /<\/?\w+\s*\/?>|https?:\/\/\S+|[\p{L}\p{M}][\p{L}\p{M}\d₀-₉]*/gu;

function longer(word: string): string {
  if (UNIT.test(word) || DONE.test(word) || /[\d₀-₉]|\p{L}\p{Lu}/u.test(word)) return word;
  let missing = Math.ceil(word.length * GROWTH);
  let out = '';
  for (const letter of word) {
    const accented = ACCENTED[letter] ?? letter;
    const add = accented === letter ? 0 : Math.min(missing, 2);
    out += accented + accented.toLowerCase().repeat(add);
    missing -= add;
  }
  return out + FILLING.repeat(missing);
}

/** The text in the made-up language; a text that already is in it stays as it is. */
export const stretched = (text: string): string =>
  text.replace(PIECES, (piece) => (piece.startsWith('<') || piece.startsWith('http') ? piece : longer(piece)));

const STORED_AS = 'ullage.words';

/** Read once, before the first word: a page does not change its language while it is looked at. */
export function asksForStretched(): boolean {
  try {
    return sessionStorage.getItem(STORED_AS) === 'stretched';
  } catch {
    // Without storage there is only the plain language.
    return false;
  }
}
