/** Reached, written and left without a mouse; drawn closer, cut off and caught up: the built page in real Chromium. */
import { describe, expect, test } from 'vitest';
import { lookingAt, testOfComplaints } from './lookingAt.ts';

const looking = lookingAt();

describe('by keyboard and in time', () => {
  test('the worst row is selected, opened and left again without a mouse', async () => {
    const server = await looking().serve();
    const page = await looking().open(await looking().context({ viewport: { width: 1440, height: 900 } }));
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
    const server = await looking().serve();
    const page = await looking().open(await looking().context({ viewport: { width: 1440, height: 700 } }));
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
    const server = await looking().serve();
    const page = await looking().open(await looking().context({ viewport: { width: 1440, height: 900 } }));
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
    const server = await looking().serve({ role: 'engineer' });
    const page = await looking().open(await looking().context({ viewport: { width: 1440, height: 900 } }));
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
    const server = await looking().serve({ role: 'engineer' });
    const page = await looking().open(await looking().context({ viewport: { width: 320, height: 900 } }));
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
      expect([name, Math.max(0, overflow), await looking().inspect(page)]).toEqual([name, 0, []]);
    }
    await page.context().close();
  });

  test('forms of a calibration stay within a narrow screen and have no findings', async () => {
    const server = await looking().serve({ role: 'engineer' });
    const page = await looking().open(await looking().context({ viewport: { width: 320, height: 900 } }));
    await page.goto(`${server.address}/measurement/preparation-2-a`);
    for (const name of ['Enter a value', 'Mark scans as pure gas', 'Record a background', 'Recompute a period']) {
      await page.getByRole('button', { name }).click();
      await page.waitForFunction(() => document.querySelector('.skeleton') === null);
      const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      expect([name, Math.max(0, overflow), await looking().inspect(page)]).toEqual([name, 0, []]);
    }
    await page.context().close();
  });

  test('a person who drags over the trend looks closer, and the address says so', async () => {
    const server = await looking().serve();
    const page = await looking().open(await looking().context({ viewport: { width: 1440, height: 900 } }));
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
    const server = await looking().serve();
    const page = await looking().open(await looking().context({ viewport: { width: 1440, height: 900 } }));
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
    const server = await looking().serve();
    const context = await looking().context({ colorScheme: 'light' });
    const page = await looking().open(context);
    await page.goto(server.address);
    await page.evaluate(() => localStorage.setItem('ullage.preferences', '{"theme":"dark"}'));
    await page.route('**/assets/*.js', (route) => route.abort());
    await page.goto(server.address, { waitUntil: 'domcontentloaded' });
    expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBe('dark');
    await context.close();
  });

  testOfComplaints(looking);
});
