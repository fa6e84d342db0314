/**
 * The round at its limits, in real Chromium: a thousand chambers, the hardest strips on the narrowest screens, and
 * the sheet of paper.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Round } from '../../shared/contract/round.ts';
import { findings, openBrowser } from '../support/browser.ts';
import { round } from '../web/fixture/lines.ts';
import { hardest, thousand } from '../web/fixture/manyLines.ts';
import { type FixtureServer, isBuilt, startFixtureServer } from '../web/fixture/server.ts';

const NOW = Date.now();
let browser: Browser;
let server: FixtureServer;
let page: Page;

beforeAll(async () => {
  expect(isBuilt(), 'the page is built before it is looked at: npm run build').toBe(true);
  browser = await openBrowser();
  server = await startFixtureServer({ nowMs: NOW });
});
afterAll(async () => {
  await browser?.close();
  await server?.close();
});
beforeEach(async () => {
  await page?.context().close();
  page = await (await browser.newContext({ viewport: { width: 1440, height: 900 } })).newPage();
});

const open = async (told: Round, path = '/'): Promise<void> => {
  await page.route('**/api/v1/round', (route) => route.fulfill({ json: told }));
  await page.goto(server.address + path);
  await page.getByRole('article').first().waitFor();
  await page.getByRole('heading', { level: 2, name: 'Handover' }).waitFor();
  await page.evaluate(() => document.fonts.ready.then(() => undefined));
};

/** Rows that the browser lays out and paints now; the others are in the page and cost it nothing. */
const laidOut = () =>
  page.evaluate(
    () =>
      [...document.querySelectorAll('article.row, .rest .l')].filter((row) =>
        (row.firstElementChild as HTMLElement).checkVisibility({ contentVisibilityAuto: true }),
      ).length,
  );
const twoFrames = () =>
  page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(null)))));

describe('a thousand chambers', () => {
  test('cost what is seen of them: few nodes each, and no more rows laid out than of a hundred', async () => {
    const many = thousand(NOW);
    await open({ ...many, areas: many.areas.slice(0, 1) });
    await twoFrames();
    const ofHundred = await laidOut();
    await page.unroute('**/api/v1/round');
    await open(many);
    await twoFrames();
    const [nodes, rows] = await page.evaluate(() => [
      document.querySelectorAll('*').length,
      document.querySelectorAll('article.row, .rest .l').length,
    ]);
    expect(rows).toBe(1000);
    // An <svg> with its paths, a link, ages and buttons.
    expect(nodes / rows).toBeLessThan(30);
    expect(await laidOut()).toBeLessThanOrEqual(1.5 * ofHundred);
    for (const share of [0.3, 0.7, 1]) {
      await page.evaluate((part) => window.scrollTo(0, part * document.documentElement.scrollHeight), share);
      await twoFrames();
      expect([share, (await laidOut()) < 150]).toEqual([share, true]);
    }
  });

  test('are all there for find, for readers and for keys', async () => {
    await open(thousand(NOW));
    expect(await page.getByRole('article').count()).toBe(400);
    expect(await page.getByRole('link', { name: 'Chamber 9-99', exact: true }).count()).toBe(1);
    expect(
      await page.evaluate(() => (window as unknown as { find: (text: string) => boolean }).find('Chamber 9-77')),
    ).toBe(true);
    for (let i = 0; i < 45; i += 1) await page.keyboard.press('j');
    const seen = await page.evaluate(() => {
      const row = document.querySelector('.sel')?.getBoundingClientRect();
      const bar = document.querySelector('.sign')?.getBoundingClientRect();
      return row && bar ? { above: row.bottom <= bar.top + 1, below: row.top >= 0 } : null;
    });
    expect(seen).toEqual({ above: true, below: true });
  });

  test('are all on paper', async () => {
    await open(thousand(NOW));
    await page.emulateMedia({ media: 'print' });
    expect(await laidOut()).toBe(1000);
    expect(await page.locator('.tick').count()).toBe(1000);
    const pdf = (await page.pdf({ format: 'A4', preferCSSPageSize: true })).toString('latin1');
    // Thirty rows that need a person fill about two sheets: ten areas cannot lie on fewer than fifteen.
    expect(pdf.match(/\/Type\s*\/Page\b/g)?.length ?? 0).toBeGreaterThan(15);
  });
});

describe('the narrowest screens', () => {
  for (const width of [390, 320]) {
    test(`${width}: fourteen gases out of bed and long names, nothing over anything`, async () => {
      await page.setViewportSize({ width, height: 700 });
      await open(hardest(NOW));
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width);
      const faults = await page.evaluate(() => {
        const found: string[] = [];
        for (const strip of document.querySelectorAll('article .strip')) {
          const texts = [...strip.querySelectorAll('text')].map(
            (text) => [text.textContent, text.getBoundingClientRect()] as const,
          );
          for (const [i, [name, a]] of texts.entries()) {
            if (a.left < 0 || a.right > window.innerWidth) found.push(`${name} leaves the screen`);
            for (const [other, b] of texts.slice(i + 1)) {
              const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
              const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
              // The box of a text is higher than its figures.
              if (across > 1 && down > 4) found.push(`${name} over ${other}`);
            }
          }
        }
        return found;
      });
      expect(faults).toEqual([]);
      const drawn = await page.getByRole('article').first().locator('.strip .st-f').count();
      expect(drawn).toBe(14);
      expect(await findings(page)).toEqual([]);
    });

    test(`${width}: whatever has the focus is not under the sign bar`, async () => {
      await page.setViewportSize({ width, height: 700 });
      await open(round(NOW));
      for (let i = 0; i < 30; i += 1) {
        await page.keyboard.press('Tab');
        const hidden = await page.evaluate(() => {
          const box = (document.activeElement as HTMLElement).getBoundingClientRect();
          const bar = document.querySelector('.sign') as HTMLElement;
          return (
            !bar.contains(document.activeElement) && box.height > 0 && box.bottom > bar.getBoundingClientRect().top + 1
          );
        });
        expect([i, hidden]).toEqual([i, false]);
      }
    });
  }
});

describe('on paper', () => {
  test('strips at 74 and 40 parts of a hundred, a box for each chamber, the handover, two signatures, the address', async () => {
    await open(round(NOW), '/?since=changed');
    await page.emulateMedia({ media: 'print' });
    const full = await page.evaluate(() => Number(document.querySelector('.striphead')?.getAttribute('width')));
    const widths = (selector: string) =>
      page
        .locator(selector)
        .evaluateAll((all) => [...new Set(all.map((one) => Math.round(one.getBoundingClientRect().width)))]);
    expect(await widths('article .strip')).toEqual([Math.round(0.74 * full)]);
    expect(await page.locator('article.row .tick:visible').count()).toBe(await page.getByRole('article').count());
    for (const text of [
      'Work in progress',
      'Promised',
      'To be watched',
      'Shelved',
      'Handed over by, time',
      'Taken over by, time',
    ])
      expect([text, await page.getByText(text, { exact: true }).first().isVisible()]).toEqual([text, true]);
    expect(await page.locator('.paper-foot').textContent()).toContain(`${server.address}/?since=changed`);
    expect(await page.locator('.paper-foot').textContent()).toMatch(/Ullage 0\.1\.0 · catalogue 2026\.11/);
    for (const gone of ['.sign', '.mast', '.tools', 'article button'])
      expect([gone, await page.locator(`${gone}:visible`).count()]).toEqual([gone, 0]);
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
    // A4 in points: 210 × 297 mm.
    const [, wide, high] = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)/.exec(pdf) ?? [];
    expect([Math.round(Number(wide)), Math.round(Number(high))]).toEqual([595, 842]);
  });

  test('chambers at rest stand three to a line', async () => {
    await open(round(NOW));
    await page.emulateMedia({ media: 'print' });
    const full = await page.evaluate(() => Number(document.querySelector('.striphead')?.getAttribute('width')));
    const rest = await page.locator('.rest .l').evaluateAll((all) =>
      all.slice(0, 4).map((one) => {
        const { top } = one.getBoundingClientRect();
        return {
          top: Math.round(top),
          strip: Math.round(one.querySelector('.strip')?.getBoundingClientRect().width ?? 0),
        };
      }),
    );
    expect(new Set(rest.slice(0, 3).map(({ top }) => top)).size).toBe(1);
    expect(rest[3]?.top).toBeGreaterThan(rest[0]?.top as number);
    expect(rest[0]?.strip).toBe(Math.round(0.4 * full));
  });
});
