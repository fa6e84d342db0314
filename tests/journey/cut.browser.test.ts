/**
 * The line to the server is cut and comes back, while colleagues go on working. Real Chromium against the whole
 * product, through a line that the test can cut. Pages of one browser share one stream.
 */
import { setTimeout as sleep } from 'node:timers/promises';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Alert } from '../../shared/contract/alerts.ts';
import { findings, openBrowser } from '../support/browser.ts';
import { type CuttableLine, openLine } from '../support/cuttableLine.ts';
import { type Stack, startStack } from '../support/stack.ts';
import { STORIES } from '../support/strangerFleet.ts';
import { fleetOf, scansOf } from '../support/strangers.ts';

const CAST = STORIES.filter((story) => ['quiet-wet', 'air-wet', 'oil'].includes(story.id));
const PASSWORD = 'four small grey pumps';
let stack: Stack;
let line: CuttableLine;
let url: string;
let browser: Browser;
let context: BrowserContext;
let page: Page;
let other: string;
const faults: string[] = [];

beforeAll(async () => {
  stack = await startStack();
  await stack.ask('PUT', '/api/v1/fleet', fleetOf(CAST));
  const endMs = Math.floor(Date.now() / 1000) * 1000 - 5_000;
  for (const story of CAST)
    await stack.ask('POST', '/api/v1/scans', { scans: scansOf(story, { endMs, minutes: 150, periodSeconds: 60 }) });
  await stack.untilAnalysed();
  await stack.ask(
    'POST',
    '/api/v1/people',
    { login: 'ines', name: 'Ines Prado', role: 'operator', password: PASSWORD },
    { status: 201 },
  );
  other = (await stack.ask<{ token: string }>('POST', '/api/v1/tokens', { name: 'J. Ravn', role: 'operator' })).token;
  line = await openLine(Number(new URL(stack.url).port));
  url = `http://127.0.0.1:${line.port}`;
  browser = await openBrowser();
  context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  page = await context.newPage();
  page.on('pageerror', (error) => faults.push(String(error)));
}, 300_000);

afterAll(async () => {
  await browser?.close();
  await line?.close();
  await stack?.stop();
});

const openAlert = async (chamber: string): Promise<Alert> => {
  const { alerts } = await stack.ask<{ alerts: Alert[] }>('GET', `/api/v1/alerts?chamber=${chamber}`);
  return alerts[0] as Alert;
};
/** A colleague, at another desk. */
const colleague = (path: string, body: unknown) => stack.ask('POST', path, body, { token: other });
const streams = async () =>
  Number(/^ullage_event_clients (\d+)/m.exec(await (await fetch(`${stack.url}/metrics`)).text())?.[1]);
/** A page that was left takes its connection with it a moment later; counted, not timed. */
const oneStream = async () => {
  for (let tries = 0; tries < 300 && (await streams()) !== 1; tries += 1) await sleep(100);
  expect(await streams()).toBe(1);
};
const row = (of: Page, name: string) => of.getByRole('article', { name });

test('who opens a link while signed out lands there after signing in', async () => {
  await page.goto(`${url}/alerts?state=all&find=air`);
  await page.getByLabel('Login').fill('ines');
  await page.getByLabel('Password').fill(PASSWORD);
  await page.keyboard.press('Enter');
  await page
    .getByRole('article', { name: /air-wet/ })
    .first()
    .waitFor();
  expect(page.url()).toBe(`${url}/alerts?state=all&find=air`);
});

test('three pages of one browser share one stream, and each hears of a colleague’s work', async () => {
  await page.goto(`${url}/`);
  await row(page, 'air-wet').waitFor();
  const second = await context.newPage();
  const third = await context.newPage();
  for (const one of [second, third]) {
    await one.goto(`${url}/`);
    await one.getByText(/^live/).waitFor();
  }
  await oneStream();
  // Whichever page was first: the others go on without it.
  await second.close();
  await third.bringToFront();
  await colleague(`/api/v1/alerts/${(await openAlert('oil')).id}/acknowledge`, { note: 'pump is ordered' });
  for (const one of [page, third]) await row(one, 'oil').getByText('acknowledged', { exact: true }).first().waitFor();
  await oneStream();
  await third.close();
  await page.bringToFront();
});

test('a refused acknowledgement goes back, says who was first, and keeps the words', async () => {
  const alert = await openAlert('air-wet');
  // The colleague's answer arrives at the server a moment before this one.
  await page.route('**/acknowledge', async (route) => {
    await colleague(`/api/v1/alerts/${alert.id}/acknowledge`, { note: 'closing V2' });
    await route.continue();
  });
  await row(page, 'air-wet')
    .getByRole('button', { name: /Acknowledge/ })
    .click();
  await page.getByLabel('Note (what').fill('I go and look');
  await page.keyboard.press('Enter');
  const refused = page.getByText(/J\. Ravn/).first();
  await refused.waitFor();
  await page
    .getByText(/I go and look/)
    .or(page.locator('input[value="I go and look"]'))
    .first()
    .waitFor();
  await row(page, 'air-wet').getByText('acknowledged', { exact: true }).first().waitFor();
  expect((await openAlert('air-wet')).acknowledged).toMatchObject({ by: 'J. Ravn', note: 'closing V2' });
  await page.unroute('**/acknowledge');
  expect(await findings(page)).toEqual([]);
});

test('cut off is said, with the age and the next try, on a page that was looked at before', async () => {
  await page.goto(`${url}/`);
  await page.getByText(/^live/).waitFor();
  line.cut('freeze');
  await page.getByText(/Cut off for/).waitFor();
  await page.getByText(/Trying again/).waitFor();
  await page.getByRole('button', { name: 'Try now' }).waitFor();
  expect(await page.locator('.liveness').textContent()).toMatch(/cut off, .* old/);
  expect(await findings(page)).toEqual([]);
});

test('when it is back it says how much has changed meanwhile, and shows it', async () => {
  const oil = await openAlert('oil');
  const until = new Date(Date.now() + 3_600_000).toISOString();
  await colleague(`/api/v1/alerts/${oil.id}/shelve`, { until, reason: 'the pump comes at noon' });
  line.mend();
  await page.getByText('Caught up.').waitFor();
  await page.getByText(/1 chamber says something else than before you were cut off/).waitFor();
  await row(page, 'oil')
    .getByText(/shelved/)
    .first()
    .waitFor();
  await page.getByText(/^live/).waitFor();
  expect(faults).toEqual([]);
});

test('a session that is ended elsewhere ends here at once', async () => {
  await stack.ask('PATCH', '/api/v1/people/ines', { role: 'viewer' });
  await page.getByText(/Say who you are/).waitFor();
});
