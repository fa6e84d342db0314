import { createHash } from 'node:crypto';
import { strFromU8, unzipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { FLEET, NOW, openWorld, putAlert, putReadings, type World } from '../world.ts';

let world: World;
const minutesAgo = (minutes: number) => new Date(NOW.getTime() - minutes * 60_000);
const from = minutesAgo(120).toISOString();
const to = minutesAgo(10).toISOString();

beforeAll(async () => {
  world = await openWorld();
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  const scans = Array.from({ length: 100 }, (_, i) => 110 - i).filter((minute) => minute < 60 || minute > 80);
  await putReadings(
    world,
    scans.map((minute) => ({
      at: minutesAgo(minute),
      scanId: minute === 50 ? '=cmd|"run"!A1' : `scan ${minute}`,
      gaugePa: 2e-7,
      gases: { N2: minute < 40 ? 4e-7 : 1e-7, H2O: 3e-8, He: { below: 3e-11 } },
    })),
  );
  await putAlert(world, { id: 'leak', raisedAt: minutesAgo(40) });
  await putAlert(world, { id: 'wet', signature: 'water', state: 'normal', raisedAt: minutesAgo(5000) });
  await world.db.sql`update alerts set returned_at = ${minutesAgo(4000)} where id = 'wet'`;
});
afterAll(() => world.close());

const get = (query: string) => world.ask('GET', `/api/v1/chambers/n-prep-1/ticket?${query}`);
const filesOf = (raw: Buffer): Record<string, string> =>
  Object.fromEntries(Object.entries(unzipSync(raw)).map(([name, bytes]) => [name, strFromU8(bytes)]));
const fixed = `from=${from}&to=${to}&gases=N2,H2O,He`;

test('is a zip of exactly the promised files', async () => {
  const answer = await get(fixed);
  expect(answer.status).toBe(200);
  expect(answer.headers['content-type']).toBe('application/zip');
  expect(answer.headers['content-disposition']).toMatch(/^attachment; filename="ticket-n-prep-1-2026-03-02\.zip"$/);
  expect(Object.keys(unzipSync(answer.raw))).toEqual([
    'summary.md',
    'trend.csv',
    'trend.svg',
    'scans.csv',
    'alert.json',
    'manifest.json',
  ]);
});

test('the same request twice gives the same bytes, whatever the clock and the time zone of the machine', async () => {
  const first = await get(`${fixed}&alert=leak`);
  world.at(new Date(NOW.getTime() + 86_400_000));
  const zone = process.env.TZ;
  process.env.TZ = 'Pacific/Auckland';
  const second = await get(`${fixed}&alert=leak`);
  if (zone === undefined) delete process.env.TZ;
  else process.env.TZ = zone;
  world.at(NOW);
  expect(second.raw.equals(first.raw)).toBe(true);
});

test('without from and to it ends with the newest scan, so that it stays the same while nothing arrives', async () => {
  const first = await get('');
  world.at(new Date(NOW.getTime() + 3_600_000));
  const second = await get('');
  world.at(NOW);
  expect(second.raw.equals(first.raw)).toBe(true);
  expect(JSON.parse(filesOf(first.raw)['manifest.json']!).to).toBe(minutesAgo(11).toISOString());
});

test('the manifest holds the digest of each file and the versions in force', async () => {
  const files = filesOf((await get(fixed)).raw);
  const manifest = JSON.parse(files['manifest.json']!);
  const named = Object.keys(files).filter((name) => name !== 'manifest.json');
  expect(Object.keys(manifest.sha256)).toEqual(named);
  for (const name of named) expect(manifest.sha256[name]).toBe(createHash('sha256').update(files[name]!).digest('hex'));
  expect(manifest).toMatchObject({
    chamber: 'n-prep-1',
    analyser: 'n-prep-1-a',
    from,
    to,
    scans: 79,
    calibrationVersions: ['n-prep-1-a/1'],
    catalogueVersions: ['catalogue-1'],
  });
});

test('entries that the readings were made with are told with who, when and from what, whatever is decided later', async () => {
  const { sql } = world.db;
  const version = 'n-prep-1-a/1+cal-b+cal-a';
  await sql`update readings set calibration_version = ${version} where at < ${minutesAgo(100)}`;
  const number = sql.json({ value: 6.4e-7, relativeUncertainty: 0.05 });
  const pattern = sql.json({
    gas: 'CO2',
    peaks: { 44: 100 },
    fragmentUncertainty: 0.1,
    responseAtLargest: null,
    responseUncertainty: null,
  });
  await sql`
    insert into calibrations (chamber, analyser, id, kind, gas, value, source, note, state, valid_from, set_at, set_by,
      decided_at, decided_by, scans_from, scans_to, scan_count)
    values
      ('n-prep-1', 'n-prep-1-a', 'cal-a', 'sensitivity', null, ${number}, 'certificate', 'Certificate | 118', 'in-force',
        ${minutesAgo(300)}, ${minutesAgo(290)}, 'ada', ${minutesAgo(290)}, 'ada', null, null, null),
      ('n-prep-1', 'n-prep-1-a', 'cal-b', 'pattern', 'CO2', ${pattern}, 'pure gas', 'Bottle', 'proposed',
        null, ${minutesAgo(280)}, 'ada', null, null, ${minutesAgo(285)}, ${minutesAgo(284)}, 12),
      ('n-prep-1', 'n-prep-1-a', 'cal-c', 'gain', null, ${number}, 'detector pair', 'Not used', 'in-force',
        ${minutesAgo(300)}, ${minutesAgo(290)}, 'ada', ${minutesAgo(290)}, 'ada', null, null, null)`;
  const path = '/api/v1/analysers/n-prep-1-a/calibrations/cal-b';
  await world.ask('POST', `${path}/enforce`, { body: { validFrom: minutesAgo(200).toISOString(), note: 'Good' } });
  const first = await get(fixed);
  const files = filesOf(first.raw);
  const manifest = JSON.parse(files['manifest.json']!);
  expect(manifest.calibrationVersions).toEqual(['n-prep-1-a/1', version]);
  expect(manifest.calibrations.map(({ id }: { id: string }) => id)).toEqual(['cal-a', 'cal-b']);
  expect(manifest.calibrations[0]).toMatchObject({ source: 'certificate', setBy: 'ada', enforced: null });
  expect(manifest.calibrations[1]).toMatchObject({ gas: 'CO2', scans: { count: 12 }, enforced: { by: 'admin token' } });
  const text = files['summary.md']!;
  expect(text).toContain('n-prep-1-a/1+cal-b+cal-a');
  expect(text).toMatch(
    /- cal-a: sensitivity for N2 6\.4e-7 A\/Pa, from certificate; set by ada on 2026-03-02 08:10:00 \+01:00; for scans from 2026-03-02 08:00:00 \+01:00\. Certificate \\\| 118/,
  );
  expect(text).toMatch(/- cal-b: pattern of CO2, from pure gas, 12 scans from .* put in force by admin token on /);
  expect(files['scans.csv']).toContain('n-prep-1-a/1+cal-b+cal-a');
  await world.ask('POST', `${path}/withdraw`, { body: { note: 'Mixed' } });
  expect((await get(fixed)).raw.equals(first.raw)).toBe(true);
  await sql`update readings set calibration_version = 'n-prep-1-a/1'`;
});

test('about an alert it shows it with its life, from six hours before', async () => {
  const files = filesOf((await get('alert=leak')).raw);
  expect(JSON.parse(files['alert.json']!)).toMatchObject({
    id: 'leak',
    signature: 'air-leak',
    moves: [{ move: 'raise' }],
  });
  const manifest = JSON.parse(files['manifest.json']!);
  expect(manifest).toMatchObject({ alert: 'leak', from: minutesAgo(40 + 360).toISOString() });
  expect(manifest.gases.slice(0, 3)).toEqual(['N2', 'O2', 'Ar']);
  const text = files['summary.md']!;
  expect(text).toContain('# Preparation 1 (n-prep-1)');
  expect(text).toContain('Air is leaking in and growing.');
  expect(text).toContain('How sure: nearly certain');
  expect(text).toContain('Leak rate: 1.1e-7 Pa·m³/s (8.0e-8 to 1.5e-7)');
  expect(text).toContain('| N2 over O2 | 3.7 (3.2 to 4.1) | 3.7 | as of air |');
  expect(text).toContain('2026-03-02 12:20:00 +01:00');
  expect(text).toMatch(/never bypass an interlock/i);
});

test('without an alert it lists those that stood in the span', async () => {
  const { alerts } = JSON.parse(filesOf((await get(fixed)).raw)['alert.json']!);
  expect(alerts.map(({ id }: { id: string }) => id)).toEqual(['leak']);
});

test('the tables hold every scan and no formula', async () => {
  const files = filesOf((await get(fixed)).raw);
  const rows = files['scans.csv']!.trimEnd().split('\r\n');
  expect(rows).toHaveLength(1 + 79);
  expect(rows[0]).toContain('N2 (Pa),N2 low (Pa),N2 high (Pa),N2 detected');
  expect(files['scans.csv']).toContain(`"'=cmd|""run""!A1"`);
  const he = rows[1]!.split(',')[rows[0]!.split(',').indexOf('He (Pa)')];
  expect(he).toBe('');
  expect(files['trend.csv']!.split('\r\n')[0]).toContain('H2O (Pa)');
});

describe('the picture', () => {
  test('names chamber, span with offset, unit, gases, gaps and versions, and is well-formed', async () => {
    const svg = filesOf((await get(`${fixed}&unit=mbar`)).raw)['trend.svg']!;
    for (const text of [
      'Preparation 1 (n-prep-1)',
      '2026-03-02 11:00:00 +01:00 to 2026-03-02 12:50:00 +01:00 (Europe/Oslo)',
      'partial pressure, mbar',
      'N2 nitrogen',
      'He helium, below detection',
      'no scans',
      'no scans: 2 gaps, 32 min in all',
      'no scans 22 min',
      '12:20 Air leaks in, high',
      'Calibration n-prep-1-a/1; catalogue catalogue-1.',
    ])
      expect(svg).toContain(text);
    expect(svg).not.toMatch(/NaN|Infinity|undefined|null/);
    const stack: string[] = [];
    for (const [, close, name, self] of svg.matchAll(/<(\/?)([a-z]+)[^>]*?(\/?)>/gi)) {
      if (close) expect(stack.pop()).toBe(name);
      else if (!self) stack.push(name!);
    }
    expect(stack).toEqual([]);
  });

  test('no line crosses the gap', async () => {
    const svg = filesOf((await get(`from=${from}&to=${to}&gases=N2`)).raw)['trend.svg']!;
    const lines = [...svg.matchAll(/d="M([\d. L]+)" fill="none" stroke="#\w+" stroke-width="1.9"/g)].map((match) =>
      match[1]!.split('L').map((p) => Number(p.split(' ')[0])),
    );
    expect(lines).toHaveLength(2);
    // 81 and 59 minutes ago in a picture of 110 minutes, between x = 84 and 890.
    expect(Math.max(...lines[0]!)).toBeCloseTo(84 + ((120 - 81) / 110) * 806, 0);
    expect(Math.min(...lines[1]!)).toBeCloseTo(84 + ((120 - 59) / 110) * 806, 0);
  });

  test('is there when nothing was measured', async () => {
    const span = `from=${minutesAgo(900).toISOString()}&to=${minutesAgo(800).toISOString()}`;
    const files = filesOf((await get(`${span}&gases=N2`)).raw);
    expect(files['trend.svg']).toContain('N2 nitrogen, not measured');
    expect(files['summary.md']).toContain('No alert stood in this span.');
  });
});

describe('what it names', () => {
  test('gaps with their length, the address of the same ticket, and versions stand in the summary and the manifest', async () => {
    const files = filesOf((await get(`${fixed}&unit=mbar`)).raw);
    const manifest = JSON.parse(files['manifest.json']!);
    // Before the first scan there is none either.
    expect(manifest.gaps).toEqual([
      { from, to: minutesAgo(110).toISOString() },
      { from: minutesAgo(81).toISOString(), to: minutesAgo(59).toISOString() },
    ]);
    expect(files['summary.md']).toContain(
      '- No scans from 2026-03-02 11:39:00 +01:00 to 2026-03-02 12:01:00 +01:00: 22 min',
    );
    const address = new URL(manifest.permalink, 'http://ullage');
    expect(address.pathname).toBe('/chambers/n-prep-1/ticket');
    expect(Object.fromEntries(address.searchParams)).toEqual({
      ...{ from, to, gases: 'N2,H2O,He', analyser: 'n-prep-1-a', unit: 'mbar' },
    });
    expect(files['summary.md']).toContain(manifest.permalink);
    const again = await world.ask('GET', `/api/v1/chambers/n-prep-1/ticket${address.search}`);
    expect(again.raw.equals((await get(`${fixed}&unit=mbar`)).raw)).toBe(true);
  });

  test('columns carry their unit', async () => {
    const files = filesOf((await get(`${fixed}&unit=Torr`)).raw);
    const trend = files['trend.csv']!.split('\r\n')[0]!.split(',');
    expect(trend[0]).toBe('at');
    for (const column of trend.slice(1)) expect(column).toMatch(/ \(Torr\)$/);
    const scans = files['scans.csv']!.split('\r\n')[0]!.split(',');
    for (const gas of ['gauge', 'sum', 'floor', 'N2', 'N2 low', 'N2 high']) expect(scans).toContain(`${gas} (Torr)`);
  });

  test('a gas without a line of its own is said not to be drawn, and stands in the tables', async () => {
    const files = filesOf((await get(`from=${from}&to=${to}&gases=H2,He,N2`)).raw);
    expect(files['trend.svg']).toContain('Not drawn, for want of a line of its own, but in the tables: He.');
    expect(files['trend.svg']).not.toContain('He helium');
    expect(files['trend.csv']!.split('\r\n')[0]).toContain('He (Pa)');
  });
});

test('the site is named as in the page', async () => {
  await world.db.sql`insert into settings (key, value) values ('site', '"Marsh End"')`;
  const files = filesOf((await get(fixed)).raw);
  expect(files['summary.md']).toContain('Marsh End');
  expect(files['trend.svg']).toContain('Marsh End');
  await world.db.sql`delete from settings where key = 'site'`;
});

describe('the sheet of the page', () => {
  const sheet = (query: string) => world.ask('GET', `/api/v1/chambers/n-prep-1/ticket/sheet?${query}`);

  test('tells the digests of the very files that the zip holds', async () => {
    const { body } = await sheet(`${fixed}&alert=leak`);
    const zip = await world.ask('GET', body.file.path);
    const digest = (content: Buffer | string) => createHash('sha256').update(content).digest('hex');
    expect(body.file).toMatchObject({
      name: 'ticket-n-prep-1-2026-03-02.zip',
      bytes: zip.raw.length,
      sha256: digest(zip.raw),
    });
    const files = filesOf(zip.raw);
    expect(body.sha256).toEqual(Object.fromEntries(Object.entries(files).map(([name, text]) => [name, digest(text)])));
    expect(body.picture).toBe(files['trend.svg']);
    expect(body.permalink).toBe(JSON.parse(files['manifest.json']!).permalink);
  });

  test('has the numbers of each gas, the life of the alert, gaps, versions and cautions', async () => {
    const { body } = await sheet(`${fixed}&alert=leak`);
    // 39 of 79 scans hold 4e-7 Pa of nitrogen, the others 1e-7 (see the readings above): the median is the lower one.
    expect(body.gases[0]).toMatchObject({
      ...{
        gas: 'N2',
        name: 'nitrogen',
        scans: 79,
        detected: 79,
        median: 1e-7,
        least: 1e-7,
        greatest: 4e-7,
        limit: null,
      },
      last: { at: minutesAgo(11).toISOString(), value: 4e-7, detected: true },
    });
    expect(body.gases[2]).toMatchObject({ gas: 'He', detected: 0, median: null, limit: 3e-11, last: { value: null } });
    expect(body.alert).toMatchObject({ id: 'leak', moves: [{ move: 'raise' }] });
    expect(body.gaps).toHaveLength(2);
    expect(body.calibrationVersions).toEqual(['n-prep-1-a/1']);
    expect(body.cautions.at(-1)).toMatch(/never bypass an interlock/i);
  });

  test('refuses what the zip refuses', async () => {
    expect((await sheet('alert=ghost')).status).toBe(404);
    expect((await sheet('gases=unobtainium')).status).toBe(422);
  });
});

test('keeps people’s text from becoming marks', async () => {
  const fleet = structuredClone(FLEET);
  fleet.chambers[0]!.name = '<script>alert(1)</script> | **bold**';
  await world.ask('PUT', '/api/v1/fleet', { body: fleet });
  const files = filesOf((await get(fixed)).raw);
  await world.ask('PUT', '/api/v1/fleet', { body: FLEET });
  expect(files['trend.svg']).not.toContain('<script>');
  expect(files['summary.md']).toContain('# \\<script\\>alert(1)\\</script\\> \\| \\*\\*bold\\*\\*');
});

test.each([
  ['alert=ghost', 404],
  ['gases=unobtainium', 422],
  [`from=${to}&to=${from}`, 422],
  ['from=now', 400],
  ['analyser=s-load-1-a', 404],
])('%s: %d', async (query, status) => {
  expect((await get(query)).status).toBe(status);
});

test('of a chamber that is not there: 404', async () => {
  expect((await world.ask('GET', '/api/v1/chambers/nowhere/ticket')).status).toBe(404);
});
