/**
 * From the link of an alert to a ticket that somebody else can trust: opened from a link, acknowledged within two
 * presses, the ticket page with its picture and numbers, the zip with its digests, and A4 paper. Real Chromium against
 * the whole product.
 */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { strFromU8, unzipSync } from 'fflate';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Alert } from '../../shared/contract/alerts.ts';
import { resize } from '../browser/looking.ts';
import { findings, openBrowser } from '../support/browser.ts';
import { type Stack, startStack } from '../support/stack.ts';
import { STORIES } from '../support/strangerFleet.ts';
import { fleetOf, scansOf } from '../support/strangers.ts';

/** Parts of a page that come on their own are waited for as long as a busy machine needs. */
const PATIENCE = { timeout: 120_000 };
const CAST = STORIES.filter((story) => ['quiet-baked', 'air-wet'].includes(story.id));
const FILES = ['alert.json', 'manifest.json', 'scans.csv', 'summary.md', 'trend.csv', 'trend.svg'];
/** A4 in points of 1/72 inch (ISO 216: 210 mm × 297 mm). */
const A4 = { width: (210 / 25.4) * 72, height: (297 / 25.4) * 72 };

let stack: Stack;
let browser: Browser;
let page: Page;
let alert: Alert;
const faults: string[] = [];
const sha256 = (content: Uint8Array | string) => createHash('sha256').update(content).digest('hex');

beforeAll(async () => {
  stack = await startStack();
  await stack.ask('PUT', '/api/v1/fleet', fleetOf(CAST));
  const endMs = Math.floor(Date.now() / 1000) * 1000 - 5_000;
  for (const story of CAST) {
    const scans = scansOf(story, { endMs, minutes: 150, periodSeconds: 60 });
    // Twenty minutes are missing long before the leak: the ticket has to say so.
    const kept = scans.filter(({ at }) => Math.abs(Date.parse(at) - (endMs - 120 * 60_000)) > 10 * 60_000);
    await stack.ask('POST', '/api/v1/scans', { scans: kept });
  }
  await stack.untilAnalysed();
  const login = { login: 'ines', password: 'four small grey pumps' };
  await stack.ask('POST', '/api/v1/people', { ...login, name: 'Ines Prado', role: 'operator' }, { status: 201 });
  const { alerts } = await stack.ask<{ alerts: Alert[] }>('GET', '/api/v1/alerts?chamber=air-wet');
  alert = alerts[0] as Alert;
  browser = await openBrowser();
  const context = await browser.newContext({
    viewport: { width: 1440, height: 900 },
    acceptDownloads: true,
    baseURL: stack.url,
  });
  await context.request.post('/api/v1/session', { data: login });
  page = await context.newPage();
  page.on('pageerror', (error) => faults.push(String(error)));
}, 300_000);

afterAll(async () => {
  await browser?.close();
  await stack?.stop();
});

test('the link opens the verdict with its four answers, the evidence and the life of the alert, in this order', async () => {
  await page.goto(`/alerts/${alert.id}`);
  await page
    .getByRole('heading', { level: 1 })
    .filter({ hasText: /Air is leaking in/ })
    .waitFor();
  await page.getByRole('heading', { name: 'Its life so far' }).waitFor();
  for (const width of [1440, 390]) {
    await resize(page, { width, height: 900 });
    const order = await page.locator('h1, h2').allTextContents();
    const places = [
      'How sure',
      'First',
      'What would settle it',
      'What else it could be',
      'Evidence',
      'Its life so far',
    ].map((title) => order.indexOf(title));
    expect(places.every((place) => place > 0)).toBe(true);
    const tops = await Promise.all(
      ['How sure', 'Evidence', 'Its life so far'].map(async (name) => {
        const box = await page.getByRole('heading', { name, exact: true }).boundingBox();
        return box?.y ?? Number.NaN;
      }),
    );
    expect(tops).toEqual([...tops].sort((a, b) => a - b));
    expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(0);
  }
  await resize(page, { width: 1440, height: 900 });
  expect(await findings(page)).toEqual([]);
});

test('it is acknowledged in two presses', async () => {
  await page.getByRole('button', { name: /^Acknowledge/ }).click();
  await page.getByRole('button', { name: 'Acknowledge as Ines Prado' }).click();
  await page.getByText(/^Ines Prado knows since/).waitFor();
  const { alerts } = await stack.ask<{ alerts: Alert[] }>('GET', '/api/v1/alerts?chamber=air-wet');
  expect(alerts[0]).toMatchObject({ state: 'acknowledged', acknowledged: { by: 'Ines Prado' } });
});

test('one key leads to the ticket, whose address names a fixed span', async () => {
  await page.keyboard.press('t');
  await page.waitForURL(/\/chambers\/air-wet\/ticket\?from=.*&to=.*&gases=.*&alert=/);
  await page
    .getByRole('heading', { level: 1 })
    .filter({ hasText: /Air is leaking in/ })
    .waitFor();
  const fields = new URL(page.url()).searchParams;
  expect(Date.parse(fields.get('from') ?? '')).toBeLessThanOrEqual(Date.parse(alert.raisedAt));
  expect(fields.get('alert')).toBe(alert.id);
  await page
    .getByText(/^No scans from .*\s[+−]\d\d:\d\d to .*: \d+\smin\.$/)
    .first()
    .waitFor();
  await page
    .getByRole('region', { name: 'Numbers' })
    .getByRole('row', { name: /nitrogen/ })
    .waitFor();
  await page.getByRole('cell', { name: 'Ines Prado' }).waitFor();
  expect(await findings(page)).toEqual([]);
});

test('the zip holds what the page shows: same files, same digests, same picture', async () => {
  const arriving = page.waitForEvent('download');
  await page.keyboard.press('t');
  const download = await arriving;
  const bytes = readFileSync(await download.path());
  const files = unzipSync(new Uint8Array(bytes));
  expect(Object.keys(files).sort()).toEqual(FILES);
  const manifest = JSON.parse(strFromU8(files['manifest.json'] as Uint8Array));
  for (const name of FILES) {
    const digest = sha256(files[name] as Uint8Array);
    if (name !== 'manifest.json') expect(manifest.sha256[name]).toBe(digest);
    await page.getByText(digest, { exact: true }).waitFor();
  }
  await page.getByText(sha256(bytes), { exact: true }).waitFor();
  const shown = await page.getByRole('img', { name: /^Partial pressures of/ }).getAttribute('src');
  expect(decodeURIComponent((shown ?? '').slice((shown ?? '').indexOf(',') + 1))).toBe(
    strFromU8(files['trend.svg'] as Uint8Array),
  );
  const here = new URL(page.url());
  const told = new URL(manifest.permalink, stack.url);
  expect(told.pathname).toBe(here.pathname);
  expect(Object.fromEntries(told.searchParams)).toEqual(Object.fromEntries(here.searchParams));
  const again = await fetch(download.url(), { headers: { authorization: `Bearer ${stack.adminToken}` } });
  expect(sha256(Buffer.from(await again.arrayBuffer()))).toBe(sha256(bytes));
});

test('whoever opens the link later sees the same ticket', async () => {
  const digests = () => page.locator('.digests td').allTextContents();
  const before = await digests();
  await page.reload();
  await page.getByRole('heading', { name: 'This ticket' }).waitFor();
  expect(await digests()).toEqual(before);
});

test('it prints on A4, with its picture, and without what can only be pressed', async () => {
  await page.emulateMedia({ media: 'print' });
  for (const name of [/Print/, /Download/]) expect(await page.getByText(name).first().isVisible()).toBe(false);
  expect(await page.getByRole('img', { name: /^Partial pressures of/ }).isVisible()).toBe(true);
  // Pictures of evidence have no room on paper, so nothing explains them; no section jumps to the next sheet as a whole.
  expect(await page.getByText('pale: what was expected').isVisible()).toBe(false);
  const breaks = await page
    .locator('.ticket .sec')
    .evaluateAll((all) => all.map((one) => getComputedStyle(one).breakInside));
  expect(new Set(breaks)).toEqual(new Set(['auto']));
  const paper = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
  await page.emulateMedia({ media: 'screen' });
  const boxes = [...paper.matchAll(/\/MediaBox ?\[0 0 ([\d.]+) ([\d.]+)\]/g)].map((box) => [
    Number(box[1]),
    Number(box[2]),
  ]);
  expect(boxes.length).toBeGreaterThan(0);
  for (const [width, height] of boxes) {
    expect(Math.abs((width ?? 0) - A4.width)).toBeLessThan(1);
    expect(Math.abs((height ?? 0) - A4.height)).toBeLessThan(1);
  }
});

test('an earlier scan is drawn when somebody asks for it, and its address keeps it', async () => {
  await page.goto('/chambers/air-wet');
  const spectrum = page.getByRole('img', { name: /^Spectrum from/ });
  await spectrum.waitFor(PATIENCE);
  const newest = await spectrum.getAttribute('aria-label');
  for (let i = 0; i < 3; i++) {
    await page.keyboard.press(',');
    await page.waitForURL((url) => url.searchParams.has('scan'));
  }
  await page.getByText(/^Worked out again for this page, with calibration/).waitFor(PATIENCE);
  const shown = new URL(page.url()).searchParams.get('scan') ?? '';
  await page.reload();
  await page.getByText(/^Worked out again for this page, with calibration/).waitFor(PATIENCE);
  expect(new URL(page.url()).searchParams.get('scan')).toBe(shown);
  await page.getByRole('button', { name: 'Newest' }).click();
  await page.getByText(/^Worked out again/).waitFor({ state: 'detached' });
  expect(await spectrum.getAttribute('aria-label')).toBe(newest);
  expect(faults).toEqual([]);
});
