/**
 * A shift hands over to the next: what goes on and what was promised is written down, the round is signed, the other
 * person reads it as it stood and takes it over. Real Chromium against the whole product, two people in two browsers.
 */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Alert } from '../../shared/contract/alerts.ts';
import type { SignedRoundDetail } from '../../shared/contract/round.ts';
import { findings, openBrowser } from '../support/browser.ts';
import { type Stack, startStack } from '../support/stack.ts';
import { STORIES } from '../support/strangerFleet.ts';
import { fleetOf, scansOf } from '../support/strangers.ts';

const CAST = STORIES.filter((story) => ['quiet-wet', 'air-wet', 'oil', 'silent'].includes(story.id));
const PASSWORD = 'four small grey pumps';
let stack: Stack;
let browser: Browser;
let evening: Page;
let morning: Page;
const faults: string[] = [];

const signIn = async (login: string): Promise<Page> => {
  const page = await (await browser.newContext({ viewport: { width: 1440, height: 900 } })).newPage();
  page.on('pageerror', (error) => faults.push(String(error)));
  await page.goto(stack.url);
  await page.getByLabel('Login').fill(login);
  await page.getByLabel('Password').fill(PASSWORD);
  await page.keyboard.press('Enter');
  await page.getByRole('article', { name: 'air-wet' }).waitFor();
  return page;
};

beforeAll(async () => {
  stack = await startStack();
  await stack.ask('PUT', '/api/v1/fleet', fleetOf(CAST));
  const endMs = Math.floor(Date.now() / 1000) * 1000 - 5_000;
  for (const story of CAST) {
    const scans = scansOf(story, { endMs, minutes: 150, periodSeconds: 60 });
    await stack.ask('POST', '/api/v1/scans', { scans });
  }
  await stack.untilAnalysed();
  for (const [login, name] of [
    ['ravn', 'J. Ravn'],
    ['tveit', 'M. Tveit'],
  ])
    await stack.ask('POST', '/api/v1/people', { login, name, role: 'operator', password: PASSWORD }, { status: 201 });
  browser = await openBrowser();
  evening = await signIn('ravn');
}, 300_000);

afterAll(async () => {
  await browser?.close();
  await stack?.stop();
});

test('in the evening the leak is taken in hand, and the round says that it is', async () => {
  await evening.keyboard.press('j');
  await evening.keyboard.press('a');
  await evening.getByLabel('Note (what').fill('V2 closed');
  await evening.keyboard.press('Enter');
  await evening
    .getByRole('heading', { level: 1 })
    .filter({ hasText: /one is in hand/ })
    .waitFor();
  await evening
    .getByRole('article', { name: 'air-wet' })
    .getByText(/J\. Ravn, /)
    .waitFor();
  // What somebody has in hand stands after what nobody has.
  const names = await evening
    .getByRole('article')
    .evaluateAll((rows) => rows.map((row) => row.querySelector('h3')?.textContent));
  expect(names.indexOf('air-wet')).toBeGreaterThan(names.indexOf('oil'));
});

test('a promise and a piece of work are written into the handover', async () => {
  for (const [kind, about, text] of [
    ['promise', 'air-wet', 'call the beamline before six'],
    ['work', 'oil', 'roughing valve is being changed'],
  ] as const) {
    await evening.getByRole('button', { name: 'Add to the handover' }).click();
    await evening.getByLabel('What it is').selectOption(kind);
    await evening.getByLabel(/^About/).fill(about);
    await evening.getByLabel(/^In your words/).fill(text);
    await evening.keyboard.press('Enter');
    await evening.getByRole('listitem').filter({ hasText: text }).waitFor();
  }
  expect(await findings(evening)).toEqual([]);
});

test('the round is signed with a note, and the signer cannot take it over', async () => {
  await evening.getByLabel('Note for the handover').fill('air-wet: watch argon');
  await evening.keyboard.press('Shift+Enter');
  await evening.getByText(/Signed: /).waitFor();
  await evening.getByText(/the handover is not yet countersigned/).waitFor();
  await evening.getByRole('button', { name: 'Take over…' }).click();
  await evening.getByText('You signed it: whoever takes over countersigns.').waitFor();
  await evening.keyboard.press('Enter');
  await evening
    .getByRole('alert')
    .getByText(/another person than the signer/)
    .waitFor();
});

test('in the morning the other person reads what was handed over, as it stood', async () => {
  // The alert goes on living: what was signed does not.
  const { alerts } = await stack.ask<{ alerts: Alert[] }>('GET', '/api/v1/alerts?chamber=oil');
  await stack.ask('POST', `/api/v1/alerts/${alerts[0]?.id}/acknowledge`, { note: 'seen at night' });
  morning = await signIn('tveit');
  await morning.getByRole('link', { name: /^J\. Ravn signed / }).click();
  await morning
    .getByRole('heading', { level: 1 })
    .filter({ hasText: /^J\. Ravn signed / })
    .waitFor();
  await morning.getByText('For the handover: air-wet: watch argon').waitFor();
  await morning.getByRole('listitem').filter({ hasText: 'call the beamline before six' }).waitFor();
  await morning.getByRole('listitem').filter({ hasText: 'V2 closed' }).waitFor();
  const oil = morning
    .getByRole('listitem')
    .filter({ hasText: 'nobody has acknowledged it' })
    .filter({ hasText: 'oil' });
  await oil.first().waitFor();
  expect(await morning.getByText('seen at night').count()).toBe(0);
  expect(await findings(morning)).toEqual([]);
});

test('and takes it over by keyboard; the round and the list of signed rounds say so', async () => {
  await morning.getByLabel(/^Note \(what you saw/).fill('argon watched, still rising');
  await morning.keyboard.press('Enter');
  await morning.getByText(/^Taken over by M\. Tveit/).waitFor();
  await morning.getByRole('link', { name: 'All signed rounds' }).click();
  await morning.getByRole('cell', { name: /^M\. Tveit, / }).waitFor();
  const { rounds } = await stack.ask<{ rounds: { id: string; note: string }[] }>('GET', '/api/v1/rounds');
  const signed = rounds.find(({ note }) => note === 'air-wet: watch argon');
  const detail = await stack.ask<SignedRoundDetail>('GET', `/api/v1/rounds/${signed?.id}`);
  expect(detail).toMatchObject({
    by: 'J. Ravn',
    countersigned: { by: 'M. Tveit', note: 'argon watched, still rising' },
    handover: { promises: [{ text: 'call the beamline before six', by: 'J. Ravn' }] },
  });
  expect(await findings(morning)).toEqual([]);
});

test('the promise is kept and closed; it leaves the draft, and the other browser sees it go', async () => {
  await morning.goto(stack.url);
  await morning.getByRole('button', { name: 'Close: call the beamline before six' }).click();
  await morning.getByLabel('What came of it').fill('called at 05:40');
  await morning.keyboard.press('Enter');
  await morning.getByRole('listitem').filter({ hasText: 'called at 05:40' }).waitFor();
  await evening.getByRole('listitem').filter({ hasText: 'called at 05:40' }).waitFor();
  expect(await evening.getByRole('button', { name: 'Close: call the beamline before six' }).count()).toBe(0);
});

test('the sheet of the round is one of A4 with what is handed over, and no script failed', async () => {
  await morning.emulateMedia({ media: 'print' });
  expect(await morning.getByText('roughing valve is being changed').isVisible()).toBe(true);
  expect(await morning.locator('.tick:visible').count()).toBe(CAST.length);
  const pdf = (await morning.pdf({ preferCSSPageSize: true })).toString('latin1');
  expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
  expect(faults).toEqual([]);
});
