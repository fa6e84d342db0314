/** What people noted at moments of a span, in every part of its ticket. */
import { strFromU8, unzipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { FLEET, NOW, openWorld, putReadings, type World } from '../world.ts';

let world: World;
const minutesAgo = (minutes: number) => new Date(NOW.getTime() - minutes * 60_000);
const fixed = `from=${minutesAgo(120).toISOString()}&to=${minutesAgo(10).toISOString()}&gases=N2`;

beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  const scans = Array.from({ length: 100 }, (_, i) => 110 - i);
  await putReadings(
    world,
    scans.map((minute) => ({ at: minutesAgo(minute), scanId: `scan ${minute}`, gaugePa: 2e-7, gases: { N2: 1e-7 } })),
  );
});
afterAll(() => world.close());

describe('notes of people', () => {
  const note = (id: string, minutes: number, text: string) => world.db.sql`
    insert into chamber_notes (id, chamber, at, text, made_at, made_by)
    values (${id}, 'n-prep-1', ${minutesAgo(minutes)}, ${text}, ${minutesAgo(5)}, 'ada')`;
  const noted = async () => {
    const { raw } = await world.ask('GET', `/api/v1/chambers/n-prep-1/ticket?${fixed}`);
    const files = Object.fromEntries(
      Object.entries(unzipSync(raw)).map(([name, bytes]) => [name, strFromU8(bytes)]),
    ) as Record<string, string>;
    return { raw, manifest: JSON.parse(files['manifest.json']!), files };
  };

  test('within the span stand in the summary, the manifest, the sheet and the picture; others change no byte', async () => {
    const before = await noted();
    expect(before.manifest.notes).toEqual([]);
    expect(before.files['summary.md']).toContain('## Notes\n\n- None in this span.');
    await note('outside', 300, 'too early');
    expect((await noted()).raw.equals(before.raw)).toBe(true);
    await note('inside', 30, 'valve | V3 <opened>');
    const after = await noted();
    expect(after.manifest.notes).toEqual([
      {
        ...{ id: 'inside', chamber: 'n-prep-1', at: minutesAgo(30).toISOString(), text: 'valve | V3 <opened>' },
        ...{ madeAt: minutesAgo(5).toISOString(), madeBy: 'ada', withdrawnAt: null, withdrawnBy: null },
      },
    ]);
    expect(after.files['summary.md']).toContain(
      '| 2026-03-02 12:30:00 +01:00 | valve \\| V3 \\<opened\\> | ada, 2026-03-02 12:55:00 +01:00 |',
    );
    expect(after.files['trend.svg']).toContain('12:30 note: valve | V3 &lt;opened&gt;');
    expect(after.files['trend.svg']).toContain('note of a person');
    const { body } = await world.ask('GET', `/api/v1/chambers/n-prep-1/ticket/sheet?${fixed}`);
    expect(body.notes).toEqual(after.manifest.notes);
    expect((await noted()).raw.equals(after.raw)).toBe(true);
  });

  test('that were withdrawn are told as such, and no longer drawn', async () => {
    await world.db.sql`
      update chamber_notes set withdrawn_at = ${minutesAgo(4)}, withdrawn_by = 'ben' where id = 'inside'`;
    const { manifest, files } = await noted();
    expect(manifest.notes[0]).toMatchObject({ withdrawnBy: 'ben', withdrawnAt: minutesAgo(4).toISOString() });
    expect(files['summary.md']).toContain('; withdrawn by ben, 2026-03-02 12:56:00 +01:00 |');
    expect(files['trend.svg']).not.toContain('note');
  });
});
