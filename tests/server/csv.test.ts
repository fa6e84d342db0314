import fc from 'fast-check';
import { expect, test } from 'vitest';
import { csv } from '../../server/csv.ts';

/** A reader of RFC 4180, written from its grammar (section 2). */
const read = (text: string): string[][] => {
  const rows: string[][] = [];
  let row: string[] = [];
  let cell = '';
  let quoted = false;
  for (let i = 0; i < text.length; i++) {
    const c = text[i] as string;
    if (quoted) {
      if (c !== '"') cell += c;
      else if (text[i + 1] === '"') cell += text[++i];
      else quoted = false;
    } else if (c === '"') quoted = true;
    else if (c === ',') {
      row.push(cell);
      cell = '';
    } else if (c === '\r' && text[i + 1] === '\n') {
      rows.push([...row, cell]);
      row = [];
      cell = '';
      i++;
    } else cell += c;
  }
  return rows;
};

test('any text comes back as it was, but for the quote that keeps it from being a formula', () => {
  fc.assert(
    fc.property(fc.array(fc.string({ unit: 'binary' }), { minLength: 1 }), (cells) => {
      const [row] = read(csv(cells, []));
      expect(row).toEqual(cells.map((cell) => (/^[=+\-@\t\r\0]/.test(cell) ? `'${cell}` : cell)));
    }),
  );
});

test('numbers stay numbers', () => {
  expect(csv(['a', 'b', 'c', 'd'], [[-1.2e-9, 0, null, true]])).toBe('a,b,c,d\r\n-1.2e-9,0,,true\r\n');
});

test.each(['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '\r=1', '\0=1'])('%j is no formula', (text) => {
  expect(read(csv([text], []))[0]?.[0]).toBe(`'${text}`);
});
