/**
 * A display on a wall: an admin makes a token that may only read, the display signs in with it once, shows the round
 * and nothing that moves, and is out the moment the token is revoked. Beside it, what one person prefers in two
 * browsers. Real Chromium against the whole product.
 */
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { findings, openBrowser } from '../support/browser.ts';
import { type Stack, startStack } from '../support/stack.ts';
import { STORIES } from '../support/strangerFleet.ts';
import { fleetOf, scansOf } from '../support/strangers.ts';

const CAST = STORIES.filter((story) => ['quiet-wet', 'air-wet'].includes(story.id));
const PASSWORD = 'four small grey pumps';
let stack: Stack;
let browser: Browser;
let desk: BrowserContext;
let admin: Page;
let wall: BrowserContext;
let display: Page;
let token: string;

const signIn = async (page: Page) => {
  await page.goto(`${stack.url}/sign-in`);
  await page.getByLabel('Login').fill('ines');
  await page.getByLabel('Password').fill(PASSWORD);
  await page.keyboard.press('Enter');
  await page.getByRole('article', { name: 'air-wet' }).waitFor();
};

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
    { login: 'ines', name: 'Ines Prado', role: 'admin', password: PASSWORD },
    { status: 201 },
  );
  browser = await openBrowser();
  desk = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  admin = await desk.newPage();
  wall = await browser.newContext({ viewport: { width: 1920, height: 1080 } });
  display = await wall.newPage();
}, 300_000);

afterAll(async () => {
  await browser?.close();
  await stack?.stop();
});

test('an admin makes a token that may only look', async () => {
  await signIn(admin);
  await admin.goto(`${stack.url}/fleet`);
  await admin.getByLabel(/Name \(who or what/).fill('hall display');
  const make = admin.getByRole('button', { name: 'Make a token' });
  await admin.locator('form', { has: make }).locator('select').selectOption('viewer');
  await make.click();
  token = (await admin.locator('.token').textContent()) ?? '';
  expect(token.length).toBeGreaterThan(20);
});

test('the display signs in with it, and the token stands in no address', async () => {
  const addresses: string[] = [];
  display.on('request', (request) => addresses.push(request.url()));
  await display.goto(`${stack.url}/`);
  await display.getByText('Sign a display in with a token').click();
  await display.getByLabel('Token', { exact: true }).fill(token);
  expect(await findings(display)).toEqual([]);
  await display.keyboard.press('Enter');
  await display.getByRole('article', { name: 'air-wet' }).waitFor();
  expect(addresses.filter((address) => address.includes(token))).toEqual([]);
  expect(display.url()).toBe(`${stack.url}/`);
});

test('it reads, and offers nothing that moves', async () => {
  await display.getByText(/^live/).waitFor();
  for (const name of [/^Acknowledge/, /^Shelve/, /^Sign/])
    expect(await display.getByRole('button', { name }).count()).toBe(0);
  await display.keyboard.press('j');
  await display.keyboard.press('a');
  expect(await display.getByLabel('Note (what').count()).toBe(0);
  expect(await findings(display)).toEqual([]);
});

test('from three metres the verdict, the sentences and the flags can be read, and nothing is there to be pressed', async () => {
  // Visual angle of a capital letter on a display of 55 inches (1.218 m wide), Fira Sans having capitals of 0.69 em.
  const minutesOfArc = (px: number) => ((Math.atan((0.69 * px * (1.218 / 1920)) / 3) * 180) / Math.PI) * 60;
  const sizes = await display.evaluate(() => {
    const type = (where: string) =>
      Number.parseFloat(getComputedStyle(document.querySelector(where) as Element).fontSize);
    return {
      verdict: type('h1.verdict'),
      name: type('article .who h3'),
      say: type('article .say'),
      priority: type('article .m .pri'),
      flag: document.querySelector('article .flag')?.getBoundingClientRect().height ?? 0,
    };
  });
  // ISO 9241-303: at least 16 minutes of arc, 20 to 22 preferred (from memory).
  for (const what of ['name', 'say', 'priority'] as const) expect(minutesOfArc(sizes[what])).toBeGreaterThan(15.9);
  expect(minutesOfArc(sizes.verdict)).toBeGreaterThan(22);
  expect(sizes.flag).toBeGreaterThan(1.5 * sizes.say);
  expect(await display.locator('main').getByRole('button').count()).toBe(0);
  expect(await display.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(0);
  // A person at a desk sees the same page at arm’s length.
  expect(await admin.evaluate(() => document.documentElement.dataset.seen ?? 'near')).toBe('near');
});

test('its look is kept in its browser, and it stays over a restart of the page', async () => {
  await display.getByRole('button', { name: 'hall display', exact: true }).click();
  await display.getByText(/It stays until the token is revoked/).waitFor();
  await display.getByLabel('Theme').selectOption('dark');
  await display.getByRole('button', { name: 'Close' }).click();
  await display.reload();
  await display.getByRole('article', { name: 'air-wet' }).waitFor();
  expect(await display.evaluate(() => document.documentElement.dataset.theme)).toBe('dark');
});

test('what a person prefers is there in another browser, before the first paint the next time', async () => {
  await admin.goto(`${stack.url}/`);
  await admin.getByRole('button', { name: 'Ines Prado', exact: true }).click();
  const saved = admin.waitForResponse((answer) => answer.url().endsWith('/me/preferences') && answer.ok());
  await admin.getByLabel('Unit of pressure').selectOption('Torr');
  await saved;
  const savedToo = admin.waitForResponse((answer) => answer.url().endsWith('/me/preferences') && answer.ok());
  await admin.getByLabel('Theme').selectOption('dark');
  await savedToo;
  const elsewhere = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  const page = await elsewhere.newPage();
  await signIn(page);
  await page.locator('.mast').getByText('Torr', { exact: true }).waitFor();
  expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBe('dark');
  await page.addInitScript(() => {
    const seen = new MutationObserver(() => {
      if (!document.body) return;
      (window as unknown as { first: string | undefined }).first = document.documentElement.dataset.theme ?? 'none';
      seen.disconnect();
    });
    seen.observe(document, { childList: true, subtree: true });
  });
  await page.reload();
  await page.getByRole('article', { name: 'air-wet' }).waitFor();
  expect(await page.evaluate(() => (window as unknown as { first: string }).first), 'no flash').toBe('dark');
  await elsewhere.close();
});

test('a link to the view is copied whole, with its moving span held', async () => {
  await desk.grantPermissions(['clipboard-read', 'clipboard-write'], { origin: stack.url });
  await admin.goto(`${stack.url}/chambers/air-wet?range=8h`);
  await admin.getByRole('img', { name: /[Tt]rend/ }).waitFor();
  await admin.keyboard.press('u');
  await admin.getByRole('button', { name: 'Copied' }).waitFor();
  const link = new URL(await admin.evaluate(() => navigator.clipboard.readText()));
  expect(link.origin + link.pathname).toBe(`${stack.url}/chambers/air-wet`);
  const [from, to] = ['from', 'to'].map((name) => Date.parse(link.searchParams.get(name) ?? ''));
  expect((to as number) - (from as number)).toBe(8 * 3_600_000);
});

test('revoking the token ends the display at once', async () => {
  await admin.goto(`${stack.url}/fleet`);
  await admin.getByRole('button', { name: 'Revoke hall display' }).click();
  await admin.getByRole('button', { name: 'Revoke hall display now' }).click();
  await display.getByText(/Say who you are/).waitFor();
  await display.goto(`${stack.url}/alerts`);
  await display.getByText(/Say who you are/).waitFor();
});
