import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { arrayLiteral, parseArray } from '../../../shared/db/arrays.ts';
import { type Database, openDatabase } from '../../../shared/db/connect.ts';
import { type FreshDatabase, freshDatabase, quiet } from '../../support/services.ts';

let fresh: FreshDatabase;
let db: Database;
beforeAll(async () => {
  fresh = await freshDatabase();
  db = openDatabase(fresh.url, { applicationName: 'arrays', log: quiet });
});
afterAll(async () => {
  await db.close();
  await fresh.drop();
});

/** What the server makes of it and gives back. */
const there = async (values: unknown[], type: string): Promise<unknown> => {
  // As a parameter of unknown type: the driver takes the type of a list from its first item only.
  const [row] = await db.sql.unsafe(`select $1::${type}[] as back`, [db.sql.array(values as string[])]);
  return row?.back;
};

describe('arrays to the server and back', () => {
  it.each([
    ['boolean', [true, false, null]],
    ['integer', [1, -2, null]],
    ['smallint', [7]],
    ['bigint', ['9007199254740993', null]],
    ['double precision', [1.5e-9, -0.25, null]],
    ['real', [0.5]],
    ['text', ['', 'NULL', 'null', 'a,b', '{c}', '"q"', 'back\\slash', ' padded ', 'Å → µ', null]],
    ['bytea', [Buffer.from([0, 1, 0x5c, 0x22, 255]), Buffer.alloc(0), null]],
    ['timestamptz', [new Date(0), new Date('2031-02-03T04:05:06.789Z'), null]],
    ['uuid', ['00000000-0000-4000-8000-000000000000']],
  ])('%s', async (type, values) => {
    expect(await there(values, type)).toEqual(values);
    expect(await there([], type)).toEqual([]);
  });

  it('of JSON, from the server', async () => {
    const [row] = await db.sql`select array['{"a": [1, "x\\"y"]}'::jsonb, '[]', null] as back`;
    expect(row?.back).toEqual([{ a: [1, 'x"y'] }, [], null]);
  });

  it('of arrays', async () => {
    const nested = [
      [1, 2],
      [3, 4],
    ];
    expect(await there(nested, 'integer')).toEqual(nested);
  });

  it('of any text that the server can hold', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.string({ unit: 'grapheme' }).filter((text) => !text.includes('\0'))),
        async (values) => {
          expect(await there(values, 'text')).toEqual(values);
        },
      ),
      { numRuns: 200 },
    );
  });

  it('with = any() and unnest of several types at once', async () => {
    const [row] = await db.sql`select array_agg(id order by id) as ids from
      unnest(${['a', 'b', 'c']}::text[], ${[1, 2, 3]}::int[], ${db.sql.array([new Date(1), new Date(2), new Date(3)], 1184)})
      as t(id, n, at) where n = any(${[1, 3]}) and at < ${new Date(3)}`;
    expect(row?.ids).toEqual(['a']);
  });

  it('refuse an undefined item', () => {
    expect(() => arrayLiteral([1, undefined], (value) => value)).toThrow(/undefined/);
  });

  it('refuse what is not an array', () => {
    for (const text of ['', 'abc', '{1,2', '{"open'])
      expect(() => parseArray(text, (item) => item)).toThrow(/Not an array/);
  });
});
