/**
 * The first ten minutes of a site: an empty data folder, the link that the start printed, an account, one chamber,
 * a token, the command as the page hands it over, run in a shell, and the first scan seen on the page that stood
 * open all the time. Real Chromium, real shell, the whole product.
 */
import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { findings, openBrowser } from '../support/browser.ts';
import { type Stack, startStack } from '../support/stack.ts';

let stack: Stack;
let browser: Browser;
let page: Page;
const faults: string[] = [];

beforeAll(async () => {
  stack = await startStack();
  browser = await openBrowser();
  const context = await browser.newContext({
    viewport: { width: 1440, height: 900 },
    permissions: ['clipboard-read', 'clipboard-write'],
  });
  page = await context.newPage();
  page.on('pageerror', (error) => faults.push(String(error)));
}, 300_000);

afterAll(async () => {
  await browser?.close();
  await stack?.stop();
});

const heading = (text: RegExp) => page.getByRole('heading', { level: 1 }).filter({ hasText: text });

test('the first account is made with the link of the first start', async () => {
  await page.goto(/http:\S+set-up\?key=\S+/.exec(stack.output())?.[0] as string);
  await page.getByLabel('Your name').fill('Jonas Weber');
  await page.getByLabel('Login').fill('jonas');
  await page.getByLabel('Password').fill('seven dry turbo pumps');
  await page.keyboard.press('Enter');
  await heading(/Nothing is being watched yet/).waitFor();
  expect(await findings(page)).toEqual([]);
  // Gone after a reload: what follows must happen on the page as it stands.
  await page.evaluate(() => Object.assign(window, { stoodOpen: true }));
});

test('the document on the page is looked at and applied', async () => {
  await page.getByRole('button', { name: 'See what would change' }).click();
  await page.getByText('It would change this:').waitFor();
  await page.getByRole('button', { name: 'Apply' }).click();
  await heading(/chamber waits for a first scan/).waitFor();
  expect(await stack.ask<{ chambers: unknown[] }>('GET', '/api/v1/fleet')).toMatchObject({
    chambers: [{ id: 'prep-1' }],
  });
});

let command = '';

test('a gateway token is made and shown once, with a command to copy', async () => {
  await page.getByLabel('Name (who or what uses it)').fill('gateway of the hall');
  await page.getByLabel(/Analysers it may send for/).fill('prep-1-a');
  await page.getByRole('button', { name: 'Make a token' }).click();
  const once = page.locator('.once');
  await once.getByText(/It is shown once/).waitFor();
  await page.getByText('Copy this as it is:').waitFor();
  await page.getByRole('button', { name: 'Copy the command' }).click();
  await page.getByRole('button', { name: 'Copied' }).waitFor();
  command = await page.evaluate(() => navigator.clipboard.readText());
  expect(command).toContain(`${stack.url}/api/v1/scans`);
  expect(command).toContain(((await once.locator('.token').textContent()) ?? 'no token').trim());
  expect(await findings(page)).toEqual([]);
});

test('the command runs in a shell as it was copied, and the first scan is seen without a reload', async () => {
  const { stdout } = await promisify(execFile)('sh', ['-c', command]);
  expect(JSON.parse(stdout)).toMatchObject({ accepted: 1 });
  const row = page.getByRole('article', { name: 'Preparation 1' });
  await row.or(page.locator('.rest').getByText('Preparation 1')).first().waitFor();
  await heading(/waits for a first scan/).waitFor({ state: 'detached' });
  expect(await page.evaluate(() => (window as unknown as { stoodOpen?: boolean }).stoodOpen)).toBe(true);
  expect(await findings(page)).toEqual([]);
  expect(faults).toEqual([]);
});

test('the token sends scans of its analyser and nothing else', async () => {
  const token = /Bearer (\S+?)'/.exec(command)?.[1] as string;
  const ask = (path: string, init?: RequestInit) =>
    fetch(`${stack.url}${path}`, {
      ...init,
      headers: { authorization: `Bearer ${token}`, 'content-type': 'application/json' },
    });
  expect((await ask('/api/v1/people')).status).toBe(403);
  const stranger = {
    analyser: 'other',
    id: 'x',
    at: new Date().toISOString(),
    seconds: 8,
    masses: [28],
    values: [1e-9],
    unit: 'Pa',
  };
  const answer = await ask('/api/v1/scans', { method: 'POST', body: JSON.stringify({ scans: [stranger] }) });
  expect(await answer.json()).toMatchObject({ rejected: [expect.anything()] });
});
