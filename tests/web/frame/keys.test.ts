import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { keyGroups } from '../../../web/frame/keyList.ts';
import { INNER_PAGES, PAGES } from '../../../web/frame/pages.ts';

const web = resolve(import.meta.dirname, '../../../web');
const sources = readdirSync(web, { recursive: true, encoding: 'utf8' })
  .filter((file) => /\.tsx?$/.test(file) && !file.startsWith('dist'))
  .map((file) => [file, readFileSync(join(web, file), 'utf8')] as const);

/** The names in every `useKeys({ … })`, as they are written: braces are counted, nested ones are not looked into. */
const bound = sources.flatMap(([file, text]) =>
  [...text.matchAll(/(?<!function )useKeys\(/g)].flatMap((call) => {
    let [depth, top] = [0, ''];
    for (const sign of text.slice(call.index + 'useKeys('.length)) {
      if (sign === '(' || sign === '{' || sign === '[') depth += 1;
      if (sign === ')' || sign === '}' || sign === ']') depth -= 1;
      if (depth < 0) break;
      if (depth <= 1) top += sign;
    }
    return [...top.matchAll(/(?:^|[{,])\s*(?:'([^']+)'|(\w+)|(\?)):/g)].map((key) => ({
      file,
      key: (key[1] ?? key[2]) as string,
    }));
  }),
);
const listed = new Set(keyGroups().flatMap(({ lines }) => lines.flatMap(({ binds }) => binds)));

describe('keys', () => {
  test('every key that a page binds is in the help', () => {
    expect(bound.length).toBeGreaterThan(20);
    expect(bound.filter(({ key }) => !listed.has(key))).toEqual([]);
  });

  test('every key in the help is bound somewhere', () => {
    const pages = [...PAGES, ...INNER_PAGES].map(({ key }) => `g ${key}`);
    const somewhere = new Set([...bound.map(({ key }) => key), ...pages]);
    expect([...listed].filter((key) => !somewhere.has(key))).toEqual([]);
  });

  test('no two pages have the same letters', () => {
    const letters = [...PAGES, ...INNER_PAGES].map(({ key }) => key);
    expect(new Set(letters).size).toBe(letters.length);
  });
});
