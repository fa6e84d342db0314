/**
 * The built page in real Chromium, under the product's own content policy: every page in light and dark, wide and
 * narrow, without findings of axe-core, without sideways scrolling, without a script or a style refused.
 */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findings, openBrowser } from '../support/browser.ts';
import type { Scene } from '../web/fixture/answers.ts';
import { round } from '../web/fixture/lines.ts';
import { type FixtureServer, isBuilt, startFixtureServer } from '../web/fixture/server.ts';

const NOW = Date.now();
const ASSETS = resolve(import.meta.dirname, '../../web/dist/assets');
let browser: Browser;
const servers: FixtureServer[] = [];
const complaints: string[] = [];
/** The policy rightly refuses the inspector's own script; that is no complaint about the page. */
let injecting = false;

const inspect = async (page: Page): Promise<string[]> => {
  injecting = true;
  const found = await findings(page);
  injecting = false;
  return found;
};

const serve = async (scene: Omit<Scene, 'nowMs'> = {}): Promise<FixtureServer> => {
  const server = await startFixtureServer({ nowMs: NOW, ...scene });
  servers.push(server);
  return server;
};

const openPage = async (context: BrowserContext): Promise<Page> => {
  const page = await context.newPage();
  page.on('pageerror', (error) => complaints.push(`${page.url()} ${error.message}`));
  page.on('console', (message) => {
    if (!injecting && /content security policy|refused to/i.test(message.text()))
      complaints.push(`${page.url()} ${message.text()}`);
  });
  return page;
};

const settled = async (page: Page): Promise<void> => {
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.waitForFunction(() => document.querySelector('.skeleton') === null);
  await page.evaluate(() => document.fonts.ready.then(() => undefined));
};

beforeAll(async () => {
  expect(isBuilt(), 'the page is built before it is looked at: npm run build').toBe(true);
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
  for (const server of servers) await server.close();
});

const PAGES: readonly (readonly [string, string, Omit<Scene, 'nowMs'>])[] = [
  ['round', '/', {}],
  ['round of a viewer', '/', { role: 'viewer' }],
  ['round, three together', '/', { together: true }],
  ['first run', '/', { empty: true }],
  ['chamber that leaks', '/chambers/preparation-2', {}],
  ['chamber, trend as a table', '/chambers/preparation-2?view=table', {}],
  ['chamber that is blind', '/chambers/monochromator', {}],
  ['alerts', '/alerts?state=all', {}],
  ['alert', '/alerts/a-air', {}],
  ['alert that is latched, of an engineer', '/alerts/a-lat', { role: 'engineer', together: true }],
  ['alert, closed, kept as an example', '/alerts/a-old', { role: 'engineer' }],
  ['alert of a group, of a viewer', '/alerts/a-line-2', { role: 'viewer', together: true }],
  ['alerts together and put aside', '/alerts', { together: true }],
  ['performance', '/performance', { role: 'engineer' }],
  ['performance, nothing yet', '/performance?last=7d', { role: 'viewer', empty: true }],
  [
    'performance that cannot be read',
    '/performance',
    { failing: { '/api/v1/performance': { status: 500, detail: 'The database did not answer.' } } },
  ],
  ['why alerts are raised', '/rationalisation', { role: 'viewer' }],
  ['one record', '/rationalisation/air-leak?kind=preparation', { role: 'engineer' }],
  ['one record, written anew', '/rationalisation/air-leak?kind=preparation&edit=yes', { role: 'engineer' }],
  ['one record, not to be written', '/rationalisation/air-leak?edit=yes', { role: 'viewer' }],
  ['chamber, limits rehearsed', '/chambers/preparation-2?rehearsal=re-1', { role: 'engineer' }],
  ['chamber, recomputed beside judged', '/chambers/preparation-2?recomputation=t-3', {}],
  ['measurement', '/measurement', {}],
  ['analyser', '/measurement/preparation-2-a', {}],
  ['analyser that needs a look', '/measurement/preparation-2-b?quantity=kappa', { role: 'engineer' }],
  ['analyser, everything as a table', '/measurement/preparation-2-a?view=table&residuals=table&plan=table', {}],
  ['analyser that has sent nothing', '/measurement/store-2-a', { role: 'viewer' }],
  ['compare', '/compare', {}],
  ['compare, one analyser only', '/compare?chamber=store', {}],
  ['fleet', '/fleet', {}],
  ['about', '/about', {}],
  ['signed round', '/rounds/r-1', {}],
  ['not found', '/nothing', {}],
  ['error', '/alerts', { failing: { '/api/v1/alerts': { status: 500, detail: 'The database did not answer.' } } }],
  ['sign in', '/sign-in', { role: null }],
  ['set-up', '/set-up?key=k', { role: null, needsSetUp: true }],
];

describe('every page', () => {
  for (const [name, path, scene] of PAGES) {
    test(`${name}: no findings, light or dark, wide or narrow, and no sideways scrolling`, async () => {
      const server = await serve(scene);
      const context = await browser.newContext();
      const page = await openPage(context);
      for (const colorScheme of ['light', 'dark'] as const) {
        await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
        for (const width of [1440, 1024, 390, 320]) {
          await page.setViewportSize({ width, height: 900 });
          await page.goto(server.address + path);
          await settled(page);
          const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
          expect([width, Math.max(0, overflow)]).toEqual([width, 0]);
          if (width === 1440 || width === 390)
            expect([colorScheme, width, await inspect(page)]).toEqual([colorScheme, width, []]);
        }
      }
      await context.close();
    });
  }

  test('no script failed and the policy refused nothing', () => {
    expect(complaints).toEqual([]);
  });
});

describe('by keyboard and in time', () => {
  test('the worst row is selected, opened and left again without a mouse', async () => {
    const server = await serve();
    const page = await openPage(await browser.newContext({ viewport: { width: 1440, height: 900 } }));
    await page.goto(server.address);
    await page.getByRole('article', { name: 'Preparation 2' }).waitFor();
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Evidence' }).waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('article', { name: 'Preparation 2' }).waitFor();
    await page.keyboard.press('g');
    await page.keyboard.press('a');
    await page.waitForURL('**/alerts');
    await page.context().close();
  });

  test('focus can be seen, and it is not hidden behind the sign bar', async () => {
    const server = await serve();
    const page = await openPage(await browser.newContext({ viewport: { width: 1440, height: 700 } }));
    await page.goto(server.address);
    await page.getByRole('article', { name: 'Preparation 2' }).waitFor();
    for (let i = 0; i < 40; i += 1) {
      await page.keyboard.press('Tab');
      const seen = await page.evaluate(() => {
        const element = document.activeElement as HTMLElement;
        const box = element.getBoundingClientRect();
        const bar = document.querySelector('.sign')?.getBoundingClientRect();
        const inBar = element.closest('.sign') !== null;
        return {
          outline: getComputedStyle(element).outlineStyle,
          hidden: !inBar && bar !== undefined && box.height > 0 && box.top >= bar.top && box.top < bar.bottom,
        };
      });
      expect(seen).toEqual({ outline: 'solid', hidden: false });
    }
    await page.context().close();
  });

  test('an analyser is reached, its tables opened and left without a mouse', async () => {
    const server = await serve();
    const page = await openPage(await browser.newContext({ viewport: { width: 1440, height: 900 } }));
    await page.goto(server.address);
    await page.getByRole('article', { name: 'Preparation 2' }).waitFor();
    await page.keyboard.press('g');
    await page.keyboard.press('m');
    await page.getByRole('region', { name: 'Beamline 7' }).waitFor();
    await page.keyboard.press('j');
    await page.keyboard.press('Enter');
    await page.waitForURL('**/measurement/preparation-2-b');
    await page.getByRole('img', { name: /^Residuals/ }).waitFor();
    await page.keyboard.press('x');
    await page.getByRole('region', { name: 'The residuals as a table' }).waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('region', { name: 'Beamline 7' }).waitFor();
    await page.keyboard.press('g');
    await page.keyboard.press('c');
    await page.waitForURL('**/compare');
    await page.context().close();
  });

  test('why an alert is raised is reached, written anew and left without a mouse', async () => {
    const server = await serve({ role: 'engineer' });
    const page = await openPage(await browser.newContext({ viewport: { width: 1440, height: 900 } }));
    await page.goto(`${server.address}/alerts`);
    await page.getByRole('article').first().waitFor();
    await page.keyboard.press('g');
    await page.keyboard.press('w');
    await page.getByRole('region', { name: 'Records' }).getByRole('row').nth(1).waitFor();
    await page.keyboard.press('j');
    await page.keyboard.press('Enter');
    await page.waitForURL('**/rationalisation/air-leak');
    await page.getByRole('button', { name: 'Write it anew' }).press('Enter');
    await page.getByLabel('Owner').fill('bay 2');
    await page.getByLabel(/What was changed, and why/).fill('another owner');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Write it anew' }).waitFor();
    await page.keyboard.press('g');
    await page.keyboard.press('p');
    await page.getByRole('region', { name: 'Measures' }).waitFor();
    await page.context().close();
  });

  test('forms about alerts and baselines stay within a narrow screen and have no findings', async () => {
    const server = await serve({ role: 'engineer' });
    const page = await openPage(await browser.newContext({ viewport: { width: 320, height: 900 } }));
    for (const [path, name] of [
      ['/alerts/a-air', 'Take out of service…'],
      ['/alerts/a-old', 'Keep as example'],
      ['/chambers/preparation-2', 'Learn from a chosen period'],
      ['/chambers/preparation-2', 'Put in force…'],
    ] as const) {
      await page.goto(server.address + path);
      await page.getByRole('button', { name }).first().click();
      await page.waitForFunction(() => document.querySelector('.skeleton') === null);
      const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      expect([name, Math.max(0, overflow), await inspect(page)]).toEqual([name, 0, []]);
    }
    await page.context().close();
  });

  test('forms of a calibration stay within a narrow screen and have no findings', async () => {
    const server = await serve({ role: 'engineer' });
    const page = await openPage(await browser.newContext({ viewport: { width: 320, height: 900 } }));
    await page.goto(`${server.address}/measurement/preparation-2-a`);
    for (const name of ['Enter a value', 'Mark scans as pure gas', 'Record a background', 'Recompute a period']) {
      await page.getByRole('button', { name }).click();
      await page.waitForFunction(() => document.querySelector('.skeleton') === null);
      const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      expect([name, Math.max(0, overflow), await inspect(page)]).toEqual([name, 0, []]);
    }
    await page.context().close();
  });

  test('a person who drags over the trend looks closer, and the address says so', async () => {
    const server = await serve();
    const page = await openPage(await browser.newContext({ viewport: { width: 1440, height: 900 } }));
    await page.goto(`${server.address}/chambers/preparation-2`);
    const trend = page.getByRole('img', { name: /^Trend/ });
    await trend.scrollIntoViewIfNeeded();
    const box = await trend.boundingBox();
    expect(box).not.toBeNull();
    if (!box) return;
    await page.mouse.move(box.x + 300, box.y + 150);
    await page.mouse.down();
    await page.mouse.move(box.x + 600, box.y + 150, { steps: 5 });
    await page.mouse.up();
    await page.waitForURL(/from=.*to=/);
    await page.context().close();
  });

  test('cut off is said within five seconds, and the page catches up by itself', async () => {
    const server = await serve();
    const page = await openPage(await browser.newContext({ viewport: { width: 1440, height: 900 } }));
    await page.goto(server.address);
    await page.getByText(/live/).waitFor();
    const from = Date.now();
    server.cut(true);
    await page.getByText(/Cut off for/).waitFor();
    expect(Date.now() - from).toBeLessThan(5_000);
    server.cut(false);
    await page.getByText('Caught up.').waitFor();
    await page.context().close();
  });

  test('a theme that was chosen is there before the first paint', async () => {
    const server = await serve();
    const context = await browser.newContext({ colorScheme: 'light' });
    const page = await openPage(context);
    await page.goto(server.address);
    await page.evaluate(() => localStorage.setItem('ullage.preferences', '{"theme":"dark"}'));
    await page.route('**/assets/*.js', (route) => route.abort());
    await page.goto(server.address, { waitUntil: 'domcontentloaded' });
    expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBe('dark');
    await context.close();
  });

  test('forced colours: marks keep a colour of their own', async () => {
    const server = await serve();
    const context = await browser.newContext({ forcedColors: 'active' });
    const page = await openPage(context);
    await page.goto(server.address);
    await page.getByRole('article', { name: 'Preparation 2' }).waitFor();
    const [mark, ground] = await page.evaluate(() => [
      getComputedStyle(document.querySelector('.st-dash') as Element).fill,
      getComputedStyle(document.body).backgroundColor,
    ]);
    expect(mark).not.toBe(ground);
    await context.close();
  });
});

describe('size', () => {
  const gzipped = (file: string) => gzipSync(readFileSync(join(ASSETS, file))).length;
  const scripts = readdirSync(ASSETS).filter((file) => file.endsWith('.js'));

  test('the first page needs at most 200 kB of script, gzipped, and no chart', () => {
    // The entry and what it must have before it can begin.
    const page = readFileSync(join(ASSETS, '../index.html'), 'utf8');
    const first = scripts.filter((file) => page.includes(file));
    expect(first.some((file) => file.startsWith('index-'))).toBe(true);
    expect(first.reduce((sum, file) => sum + gzipped(file), 0)).toBeLessThanOrEqual(200_000);
    for (const file of first) expect(readFileSync(join(ASSETS, file), 'utf8')).not.toContain('recharts');
    expect(scripts.some((file) => statSync(join(ASSETS, file)).size > 200_000 && !file.startsWith('index-'))).toBe(
      true,
    );
  });

  test('a thousand chambers are drawn, and only as many rows are laid out as are seen', async () => {
    const many = round(NOW);
    const rest = many.areas[0]?.chambers.find(({ id }) => id === 'store');
    expect(rest).toBeDefined();
    if (rest && many.areas[0]) {
      many.areas[0].chambers = Array.from({ length: 1000 }, (_, i) => ({
        ...rest,
        id: `c-${i}`,
        name: `Chamber ${i}`,
      }));
    }
    const server = await serve();
    const page = await openPage(await browser.newContext({ viewport: { width: 1440, height: 900 } }));
    await page.route('**/api/v1/round', (route) => route.fulfill({ json: many }));
    await page.goto(server.address);
    await page.getByText('Chamber 999', { exact: true }).waitFor({ state: 'attached' });
    expect(await page.locator('.rest .l').count()).toBeGreaterThanOrEqual(1000);
    expect(
      await page
        .locator('.rest .l')
        .nth(900)
        .evaluate((line) => getComputedStyle(line).contentVisibility),
    ).toBe('auto');
    await page.context().close();
  });
});
