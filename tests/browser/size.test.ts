/**
 * What the page costs: bytes until the first page stands, what moves while it comes, elements per chamber. Sizes and
 * ratios only; how long it takes is measured by `npm run bench -- page`.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { manyChambers } from '../web/fixture/manyChambers.ts';
import { type Looking, settled, startLooking } from './looking.ts';
import { countDrawing, stillness, turnWheel } from './scrolling.ts';

const NOW = Date.now();
const ASSETS = resolve(import.meta.dirname, '../../web/dist/assets');
const DESK = { width: 1440, height: 900 };
/** Everything that the first page fetches before it stands, as it goes over the line. */
const FIRST_LOAD_BYTES = 200_000;
/** WCAG says nothing of it; 0.1 is the usual bound for a good page, we ask for half. */
const LAYOUT_SHIFT = 0.05;
/** A row at rest is a name, a strip of twelve gases and a state. */
const ELEMENTS_PER_CHAMBER = 60;
/** Lines at rest that are laid out as one grid: a grid is laid out anew as a whole when one of its lines comes near. */
const LINES_TOGETHER = 12;
/** Four screens of rows. */
const NOTCHES = 30;

let looking: Looking;
beforeAll(async () => {
  looking = await startLooking(NOW);
});
afterAll(async () => {
  await looking?.close();
});

async function overview(chambers: number, before = async (_page: Page) => {}): Promise<Page> {
  const server = await looking.serve();
  const page = await looking.open(await looking.context({ viewport: DESK }));
  await before(page);
  await page.addInitScript(() => {
    const shifts: number[] = [];
    Object.assign(window, { shifts });
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries() as unknown as { value: number; hadRecentInput: boolean }[])
        if (!entry.hadRecentInput) shifts.push(entry.value);
    }).observe({ type: 'layout-shift', buffered: true });
  });
  await page.route('**/api/v1/round', (route) => route.fulfill({ json: manyChambers(NOW, chambers) }));
  await page.goto(server.address);
  await settled(page);
  await page.getByText(`Chamber ${chambers - 1}`, { exact: true }).waitFor({ state: 'attached' });
  return page;
}

const elements = (page: Page): Promise<number> => page.evaluate(() => document.querySelectorAll('*').length);

test('the first page needs at most 200 kB, gzipped, and no chart', async () => {
  const server = await looking.serve();
  const page = await looking.open(await looking.context({ viewport: DESK }));
  const fetched = new Map<string, Promise<Buffer>>();
  page.on('response', (response) => {
    const { pathname } = new URL(response.url());
    // Data depends on the site; type is compressed already and kept for good.
    if (!/\/(?:api|health)\//.test(pathname) && !pathname.endsWith('.woff2')) fetched.set(pathname, response.body());
  });
  await page.goto(server.address);
  await settled(page);
  const bodies = await Promise.all([...fetched.values()]);
  expect([...fetched.keys()].some((path) => path.endsWith('.js'))).toBe(true);
  expect(bodies.reduce((sum, body) => sum + gzipSync(body).length, 0)).toBeLessThanOrEqual(FIRST_LOAD_BYTES);
  for (const body of bodies) expect(body.includes('recharts')).toBe(false);
  // The charts are there, in a file that is fetched when a page draws one.
  const scripts = readdirSync(ASSETS).filter((file) => file.endsWith('.js'));
  expect(scripts.some((file) => readFileSync(join(ASSETS, file), 'utf8').includes('recharts'))).toBe(true);
  await page.context().close();
});

test('nothing jumps while an overview of 200 chambers comes', async () => {
  const page = await overview(200);
  await page.waitForTimeout(500);
  const shifts = await page.evaluate(() => (window as unknown as { shifts: number[] }).shifts);
  expect(shifts.reduce((sum, shift) => sum + shift, 0)).toBeLessThanOrEqual(LAYOUT_SHIFT);
  await page.context().close();
});

test('a chamber more costs a row and nothing else', async () => {
  const page = await overview(200);
  const some = await elements(page);
  await page.context().close();
  const other = await overview(400);
  const many = await elements(other);
  await other.context().close();
  expect((many - some) / 200).toBeLessThanOrEqual(ELEMENTS_PER_CHAMBER);
});

test('a thousand chambers are drawn, and only as many rows are laid out as are seen', async () => {
  const page = await overview(1000);
  expect(await page.locator('.rest .l').count()).toBeGreaterThanOrEqual(1000);
  const pieces = page.locator('.rest .few');
  expect(await pieces.evaluateAll((all) => all.map((one) => getComputedStyle(one).contentVisibility))).toEqual(
    Array.from({ length: await pieces.count() }, () => 'auto'),
  );
  const lines = await pieces.evaluateAll((all) => all.map((one) => one.childElementCount));
  expect(Math.max(...lines)).toBeLessThanOrEqual(LINES_TOGETHER);
  await page.context().close();
});

test('scrolling a thousand chambers is the work of the browser alone: React draws nothing, no script changes the page', async () => {
  const page = await overview(1000, countDrawing);
  const before = await stillness(page);
  await page.evaluate(() => {
    const changes: string[] = [];
    Object.assign(window, { changes });
    new MutationObserver((records) => {
      for (const { type, target } of records) changes.push(`${type} of ${target.nodeName}`);
    }).observe(document, { subtree: true, childList: true, attributes: true, characterData: true });
  });
  await turnWheel(page, NOTCHES);
  const after = await stillness(page);
  expect(await page.evaluate(() => window.scrollY)).toBeGreaterThan(2000);
  expect(after.pieces, 'pieces have come near and gone far').toBeGreaterThan(before.pieces);
  expect(after.commits - before.commits).toBe(0);
  expect(await page.evaluate(() => (window as unknown as { changes: string[] }).changes)).toEqual([]);
  await page.context().close();
});

test('nothing that is higher than the screen is filled with a gradient: each tile of it would be worked out anew', async () => {
  const page = await overview(1000);
  const shaded = await page.evaluate(() =>
    [...document.querySelectorAll('*')]
      .filter((element) => element.clientHeight > window.innerHeight)
      .filter((element) => getComputedStyle(element).backgroundImage !== 'none')
      .map((element) => `${element.tagName.toLowerCase()}.${element.className}`),
  );
  expect(shaded).toEqual([]);
  await page.context().close();
});
