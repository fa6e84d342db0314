/**
 * Every word that a person sees or hears comes from web/strings. The files are read as a parser reads them (the one
 * that the build uses), not with patterns: a literal that is shown is found wherever it stands in an expression.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { shownLiterals } from '../support/shownLiterals.ts';

const WEB = resolve(import.meta.dirname, '../../web');

const pages = readdirSync(WEB, { recursive: true, encoding: 'utf8' })
  .map((file) => join(WEB, file))
  .filter((file) => /\.tsx?$/.test(file) && !/\/(dist|strings|node_modules)\//.test(file));

describe('finding what is shown', () => {
  const found = (source: string) => shownLiterals('Page.tsx', source).map(({ text }) => text);

  test('text between tags and in what is read aloud', () => {
    expect(found('const a = <p title="why so">Two {n} words<input aria-label={"of " + x} /></p>')).toEqual([
      'why so',
      'Two',
      'words',
      'of',
    ]);
  });

  test('either side of a choice, but not what is chosen by', () => {
    expect(found("const a = <p>{state === 'open' ? 'Open now' : busy && 'wait'}</p>")).toEqual(['Open now', 'wait']);
  });

  test('sentences that wait in a table or in a function for being shown', () => {
    expect(found("const T = { a: 'Needs a person' }; const f = () => 'nobody knows';")).toEqual([
      'Needs a person',
      'nobody knows',
    ]);
  });

  test('not classes, addresses, kinds, keys, units alone, signs or the words of a fault that no person meets', () => {
    expect(
      found(
        "import a from 'b c'; type T = 'x y'; const b = <p className=\"do it\" href='/a b' data-x='o p' d='M1 2'>·{x}</p>;" +
          "if (!root) throw new Error('no place for it'); const c = { a: 'open' }; f('a', 'b-c'); y === 'one two';",
      ),
    ).toEqual([]);
  });
});

/** Literals that read like words and are none, with the reason. */
const NO_WORDS: readonly (readonly [RegExp, RegExp, string])[] = [
  [/^web\/fleet\/curl\.ts$/, /^(?:curl -X POST|-H |Authorization)/, 'a command is the same in every language'],
  [/^web\/fleet\/curl\.ts$/, /^Hall$/, 'the document to begin with is the site’s own: it is there to be changed'],
  [/^web\/frame\/keys\.ts$/, /^input, textarea, select/, 'where keys are off, as the browser finds it'],
  [/^web\/frame\/keyList\.ts$/, /^Shift Enter$/, 'what is printed on the keys'],
  [/^web\/(?:api|round)\//, /^signed round$/, 'under which an answer is kept, never shown'],
  [/^web\/charts\/gaps\.ts$/, /^(?:range|recomputed)$/, 'under which a chart keeps its numbers'],
];

test('every page takes its words from the catalogue', () => {
  const left = pages.flatMap((file) => {
    const name = `web/${relative(WEB, file)}`;
    return shownLiterals(file, readFileSync(file, 'utf8'))
      .filter(({ text }) => !NO_WORDS.some(([where, what]) => where.test(name) && what.test(text)))
      .map(({ line, text }) => `${name}:${line} ${JSON.stringify(text)}`);
  });
  expect(left).toEqual([]);
});

test('what is said to be no word still stands where it is said to stand', () => {
  const gone = NO_WORDS.filter(
    ([where, what]) =>
      !pages.some((file) => {
        if (!where.test(`web/${relative(WEB, file)}`)) return false;
        return shownLiterals(file, readFileSync(file, 'utf8')).some(({ text }) => what.test(text));
      }),
  );
  expect(gone).toEqual([]);
});
