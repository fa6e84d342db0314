import { afterAll, beforeAll, expect, test } from 'vitest';
import { tidy } from '../../server/housekeeping.ts';
import { NOW, openWorld, type World } from './world.ts';

let world: World;
beforeAll(async () => {
  world = await openWorld();
});
afterAll(() => world.close());

test('takes away what nobody needs any more, and nothing else', async () => {
  const { sql } = world.db;
  const ago = (hours: number) => new Date(NOW.getTime() - hours * 3_600_000);
  await sql`insert into sessions (hash, login, created_at, seen_at, expires_at) values
    ('live', 'a', ${ago(1)}, ${ago(0.5)}, ${ago(-5)}), ('idle', 'a', ${ago(2)}, ${ago(1.5)}, ${ago(-5)}),
    ('over', 'a', ${ago(13)}, ${ago(0.1)}, ${ago(1)})`;
  await sql`insert into set_up_keys (hash, expires_at) values ('good', ${ago(-1)}), ('late', ${ago(1)})`;
  await sql`insert into rejects (received_at, token, position, problem, body) values
    (${ago(24 * 89)}, 't', 0, 'kept', ''), (${ago(24 * 91)}, 't', 0, 'old', '')`;
  await tidy(world.db, NOW);
  expect(await sql`select hash from sessions`).toEqual([{ hash: 'live' }]);
  expect(await sql`select hash from set_up_keys`).toEqual([{ hash: 'good' }]);
  expect(await sql`select problem from rejects`).toEqual([{ problem: 'kept' }]);
});
