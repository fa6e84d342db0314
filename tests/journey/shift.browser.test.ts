/**
 * A shift begins: sign in, worst chamber first, read why, acknowledge with a note, shelve one, pull the ticket, sign
 * the round. Real Chromium against the whole product, mostly by keyboard; axe-core looks at every page on the way.
 */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { strFromU8, unzipSync } from 'fflate';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Alert } from '../../shared/contract/alerts.ts';
import { findings, openBrowser } from '../support/browser.ts';
import { type Stack, startStack } from '../support/stack.ts';
import { STORIES } from '../support/strangerFleet.ts';
import { fleetOf, scansOf } from '../support/strangers.ts';

const CAST = STORIES.filter((story) => ['quiet-wet', 'quiet-baked', 'air-wet', 'oil', 'silent'].includes(story.id));
let stack: Stack;
let browser: Browser;
let page: Page;
const faults: string[] = [];

beforeAll(async () => {
  stack = await startStack();
  await stack.ask('PUT', '/api/v1/fleet', fleetOf(CAST));
  const endMs = Math.floor(Date.now() / 1000) * 1000 - 5_000;
  for (const story of CAST) {
    const scans = scansOf(story, { endMs, minutes: 150, periodSeconds: 60 });
    await stack.ask('POST', '/api/v1/scans', { scans });
  }
  await stack.untilAnalysed();
  browser = await openBrowser();
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, acceptDownloads: true });
  page = await context.newPage();
  page.on('pageerror', (error) => faults.push(String(error)));
}, 300_000);

afterAll(async () => {
  await browser?.close();
  await stack?.stop();
});

const openAlert = async (chamber: string): Promise<Alert> => {
  const { alerts } = await stack.ask<{ alerts: Alert[] }>('GET', `/api/v1/alerts?chamber=${chamber}`);
  return alerts[0] as Alert;
};

test('the link of the first start makes an account and signs it in', async () => {
  const link = /http:\S+set-up\?key=\S+/.exec(stack.output())?.[0] as string;
  await page.goto(link);
  await page.getByLabel('Your name').fill('Ines Prado');
  await page.getByLabel('Login').fill('ines');
  await page.getByLabel('Password').fill('four small grey pumps');
  expect(await findings(page)).toEqual([]);
  await page.keyboard.press('Enter');
  await page
    .getByRole('heading', { level: 1 })
    .filter({ hasText: /chambers? need/ })
    .waitFor();
});

test('the round puts the leak first, the blind chamber among those that need a look, and says why', async () => {
  const rows = page.getByRole('article');
  await rows.first().waitFor();
  expect(await rows.first().textContent()).toContain('air-wet');
  expect(await rows.first().textContent()).toMatch(/Air is leaking in/);
  await page
    .getByRole('article', { name: 'silent' })
    .getByText(/Nobody is watching/)
    .waitFor();
  expect(await page.getByRole('article', { name: 'silent' }).textContent()).not.toMatch(/at rest|nothing to do/i);
  expect(await findings(page)).toEqual([]);
});

test('a key acknowledges with a note, and the audit knows who', async () => {
  await page.keyboard.press('j');
  await page.keyboard.press('a');
  await page.getByLabel('Note (what').fill('valve V2 closed, watching');
  await page.keyboard.press('Enter');
  await page.getByRole('article', { name: 'air-wet' }).getByText('acknowledged', { exact: true }).waitFor();
  const alert = await openAlert('air-wet');
  expect(alert.state).toBe('acknowledged');
  expect(alert.acknowledged).toMatchObject({ by: 'Ines Prado', note: 'valve V2 closed, watching' });
});

test('another alert is shelved with a reason and comes back by itself', async () => {
  await page.getByRole('button', { name: 'Shelve oil' }).click();
  await page.getByLabel('Reason').fill('pump is being changed');
  await page.keyboard.press('Enter');
  await page.getByRole('article', { name: 'oil' }).getByText('shelved until').waitFor();
  const alert = await openAlert('oil');
  expect(alert.state).toBe('shelved');
  expect(Date.parse(alert.shelvedUntil as string)).toBeGreaterThan(Date.now());
});

test('the chamber says how sure, what first, and shows the evidence', async () => {
  await page.getByRole('article', { name: 'air-wet' }).getByRole('link', { name: 'air-wet' }).click();
  await page
    .getByRole('heading', { level: 1 })
    .filter({ hasText: /Air is leaking in/ })
    .waitFor();
  await page.getByText('How sure').waitFor();
  await page.getByRole('heading', { name: 'Evidence' }).waitFor();
  await page.getByRole('img', { name: /[Ss]pectrum/ }).waitFor();
  await page.getByRole('img', { name: /[Tt]rend/ }).waitFor();
  expect(await findings(page)).toEqual([]);
});

test('the ticket is a zip whose manifest holds, and the same address gives the same bytes', async () => {
  await page.keyboard.press('t');
  await page.getByRole('heading', { name: 'This ticket' }).waitFor();
  const download = page.waitForEvent('download');
  await page.keyboard.press('t');
  const file = await download;
  const files = unzipSync(new Uint8Array(readFileSync(await file.path())));
  expect(Object.keys(files).sort()).toEqual([
    'alert.json',
    'manifest.json',
    'scans.csv',
    'summary.md',
    'trend.csv',
    'trend.svg',
  ]);
  const manifest = strFromU8(files['manifest.json'] as Uint8Array);
  for (const name of ['summary.md', 'trend.csv', 'trend.svg', 'scans.csv', 'alert.json'])
    expect(manifest).toContain(
      createHash('sha256')
        .update(files[name] as Uint8Array)
        .digest('hex'),
    );
  const again = await fetch(file.url(), { headers: { authorization: `Bearer ${stack.adminToken}` } });
  expect(Buffer.from(await again.arrayBuffer()).equals(readFileSync(await file.path()))).toBe(true);
});

test('the round is signed and the next shift starts from it', async () => {
  await page.goto(`${stack.url}/`);
  await page.getByLabel('Note for the handover').fill('air-wet: V2 closed');
  await page.keyboard.press('Shift+Enter');
  await page.getByText(/Signed: /).waitFor();
  const round = await stack.ask<{ areas: { lastSigned: { by: string; note: string } | null }[] }>(
    'GET',
    '/api/v1/round',
  );
  expect(round.areas[0]?.lastSigned).toMatchObject({ by: 'Ines Prado', note: 'air-wet: V2 closed' });
  await page.reload();
  await page.getByText(/last round signed/).waitFor();
});

test('a new alert appears without reloading', async () => {
  const story = { ...(CAST.find((one) => one.id === 'quiet-wet') as (typeof CAST)[number]) };
  const endMs = Math.floor(Date.now() / 1000) * 1000 + 240_000;
  const leak = scansOf(
    { ...story, change: (m) => (m < 4.5 ? { add: { N2: 4e-6, O2: 8e-7, Ar: 5e-8 } } : {}) },
    { endMs, minutes: 4, periodSeconds: 40 },
  );
  await stack.ask('POST', '/api/v1/scans', { scans: leak.map((scan) => ({ ...scan, id: `live-${scan.id}` })) });
  await page
    .getByRole('article', { name: 'quiet-wet' })
    .getByText(/Air is leaking in/)
    .waitFor({ timeout: 60_000 });
});

test('the other pages have no findings, light or dark, and no script failed', async () => {
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme });
    for (const path of ['/', '/alerts', '/fleet', '/about', '/chambers/silent']) {
      await page.goto(stack.url + path);
      await page.getByRole('heading', { level: 1 }).waitFor();
      await page.waitForFunction(() => document.querySelector('.skeleton') === null);
      expect([path, colorScheme, await findings(page)]).toEqual([path, colorScheme, []]);
    }
  }
  expect(faults).toEqual([]);
});
