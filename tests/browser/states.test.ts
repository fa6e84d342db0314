/**
 * Every page in every state that it can be in, in light and dark, looked at by axe-core: while it loads, when the
 * server fails, when the role does not reach, when it is cut off, and when there is nothing of that name.
 */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { resize, settled, sideways } from './looking.ts';
import { lookingAt, testOfComplaints } from './lookingAt.ts';

const looking = lookingAt();

/** Address, and an address of the same page for a thing that does not exist. */
const PAGES: readonly (readonly [string, string, string | null])[] = [
  ['round', '/', null],
  ['signed round', '/rounds/r-1', '/rounds/r-none'],
  ['chamber', '/chambers/preparation-2', '/chambers/none'],
  ['alerts', '/alerts', null],
  ['alert', '/alerts/a-air', '/alerts/a-none'],
  ['ticket', '/chambers/preparation-2/ticket?alert=a-air', null],
  ['measurement', '/measurement', null],
  ['analyser', '/measurement/preparation-2-a', '/measurement/none'],
  ['compare', '/compare', null],
  ['performance', '/performance', null],
  ['records', '/rationalisation', null],
  ['record', '/rationalisation/air-leak', '/rationalisation/none'],
  ['fleet', '/fleet', null],
  ['about', '/about', null],
];

/** What a page needs before it is a page: who is there. Everything else can be late, broken or refused. */
const FRAME = /\/api\/v1\/(?:session|events|me\/)/;
const DATA = /\/(?:api\/v1|health)\//;

type Answering = 'never' | { readonly status: number; readonly detail: string };

const answerWith = async (page: Page, answering: Answering): Promise<void> => {
  await page.route(DATA, async (route) => {
    if (FRAME.test(route.request().url())) return route.continue();
    // A request that nobody answers: the page goes on loading until it is left.
    if (answering === 'never') return;
    await route.fulfill({
      status: answering.status,
      contentType: 'application/problem+json',
      body: JSON.stringify({ type: 'about:blank', title: 'Refused', ...answering, instance: '7f3c-19ab' }),
    });
  });
};

const inBoth = async (page: Page): Promise<Record<string, unknown>> => {
  const found: Record<string, unknown> = {};
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme });
    const faults = await looking().inspect(page);
    if (faults.length > 0) found[colorScheme] = faults;
  }
  await resize(page, { width: 320, height: 640 });
  const wider = await sideways(page);
  if (wider > 0) found['sideways at 320'] = wider;
  await page.setViewportSize({ width: 1440, height: 900 });
  return found;
};

describe.each(PAGES)('%s', (_name, path, missing) => {
  test('while it loads, when it fails, when it is refused, when it is cut off', async () => {
    const server = await looking().serve({ role: 'engineer' });
    const context = await looking().context({ viewport: { width: 1440, height: 900 } });
    const page = await looking().open(context);
    const found: Record<string, unknown> = {};

    await answerWith(page, 'never');
    await page.goto(server.address + path);
    await page.locator('.skeleton .sk').first().waitFor();
    await page.getByRole('heading', { level: 1 }).waitFor();
    found.loading = await inBoth(page);
    await page.unroute(DATA);

    await answerWith(page, { status: 500, detail: 'The database did not answer.' });
    await page.goto(server.address + path);
    await page
      .getByText(/The database did not answer/)
      .first()
      .waitFor();
    await page.getByRole('button', { name: /Try/ }).first().waitFor();
    expect(await page.getByText('7f3c-19ab').count(), 'an error names its request').toBeGreaterThan(0);
    found.error = await inBoth(page);
    await page.unroute(DATA);

    await answerWith(page, { status: 403, detail: 'This needs another role.' });
    await page.goto(server.address + path);
    await page
      .getByText(/not yours to see|needs another role|another role/)
      .first()
      .waitFor();
    found['no permission'] = await inBoth(page);
    await page.unroute(DATA);

    await page.goto(server.address + path);
    await settled(page);
    await page.getByText(/^live/).first().waitFor();
    server.cut(true);
    await page.getByText(/Cut off for/).waitFor();
    found['cut off'] = await inBoth(page);
    server.cut(false);

    expect(
      Object.fromEntries(Object.entries(found).filter(([, what]) => Object.keys(what as object).length > 0)),
    ).toEqual({});
    await context.close();
  });

  test.runIf(missing !== null)('when there is nothing of that name', async () => {
    const server = await looking().serve();
    const context = await looking().context({ viewport: { width: 1440, height: 900 } });
    const page = await looking().open(context);
    await page.goto(server.address + missing);
    await page
      .getByRole('heading', { level: 1 })
      .filter({ hasText: /no (?:such|chamber|alert|analyser|kind|round|signed)|not found|never/i })
      .waitFor();
    expect(await inBoth(page)).toEqual({});
    await context.close();
  });

  test('when there is nothing yet, it teaches', async () => {
    const server = await looking().serve({ empty: true });
    const context = await looking().context({ viewport: { width: 1440, height: 900 } });
    const page = await looking().open(context);
    await page.goto(server.address + path);
    await settled(page);
    expect(await inBoth(page)).toEqual({});
    await context.close();
  });
});

testOfComplaints(looking);
