// @vitest-environment jsdom
import { act, cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { prefer } from '../../web/frame/preferences.ts';
import { forgetOpened } from '../../web/round/opened.ts';
import { problem } from './fixture/answers.ts';
import { round } from './fixture/lines.ts';
import { stage, verdict } from './fixture/stage.tsx';

const now = Date.now();
const press = (key: string, more: Partial<KeyboardEventInit> = {}) =>
  fireEvent.keyDown(document.body, { key, ...more });
const row = (name: string) => screen.findByRole('article', { name });

beforeEach(() => {
  localStorage.clear();
  prefer({ keys: true, unit: null, theme: 'system' });
  sessionStorage.clear();
  forgetOpened();
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

describe('the round', () => {
  test('begins with a sentence, says the worst first, and every row says why and what first', async () => {
    stage('/');
    expect(await verdict()).toHaveProperty(
      'textContent',
      'Four of 26 chambers need a person; one is in hand; two cannot be seen.',
    );
    const first = (await screen.findAllByRole('article'))[0] as HTMLElement;
    expect(first.textContent).toContain('Preparation 2');
    expect(first.textContent).toContain('Air is leaking in since 02:40');
    expect(first.textContent).toContain('First close valve V2');
    expect(first.textContent).toContain('High');
    expect(within(first).getByRole('img', { name: /nitrogen 39 times/ })).toBeTruthy();
    expect(screen.getByText('Example data')).toBeTruthy();
  });

  test('rows stand by what a person has to do: by priority, then in hand with who has it, then not seen', async () => {
    stage('/');
    await row('Preparation 2');
    const names = screen.getAllByRole('article').map((article) => within(article).getByRole('heading').textContent);
    expect(names.slice(0, 4)).toEqual(['Preparation 2', 'Monochromator', 'Slits', 'Mirror 1']);
    const slits = await row('Slits');
    expect(slits.textContent).toContain('J. Ravn, ');
    expect(within(slits).queryByRole('button', { name: /^Acknowledge/ })).toBeNull();
  });

  test('what changed since the last round, and a gas out of its bed, can be looked for in the address', async () => {
    stage('/?gas=Ar&since=changed');
    expect(await row('Preparation 2')).toBeTruthy();
    expect(screen.getAllByRole('article').map(({ id }) => id)).toHaveLength(2);
    fireEvent.change(screen.getByLabelText('Since the last round'), { target: { value: '' } });
    expect(window.location.search).toBe('?gas=Ar');
    fireEvent.change(screen.getByLabelText('Gas out of its bed'), { target: { value: 'hydrocarbon-oil' } });
    expect(await row('Deposition 2')).toBeTruthy();
    expect(screen.queryByRole('article', { name: 'Preparation 2' })).toBeNull();
  });

  test('blind and stale chambers carry the hatch, an age and no word of health', async () => {
    stage('/');
    for (const name of ['Monochromator', 'Load lock 2']) {
      const text = (await row(name)).textContent ?? '';
      expect(text).toMatch(/last scan .*ago/);
      expect(text).not.toMatch(/at rest|nothing to do/i);
    }
    expect(within(await row('Monochromator')).getByRole('img', { name: /^Blind, 6\sh/ })).toBeTruthy();
    expect(within(await row('Load lock 2')).getByRole('img', { name: /^Stale, 47\smin; last known/ })).toBeTruthy();
  });

  test('keys: j selects, a acknowledges with a note, and nothing is done before the server has said so', async () => {
    const { asked } = stage('/');
    await row('Preparation 2');
    press('j');
    press('a');
    const note = await screen.findByLabelText(/Note \(what/);
    fireEvent.change(note, { target: { value: 'V2 closed' } });
    fireEvent.submit(note.closest('form') as HTMLFormElement);
    await waitFor(() =>
      expect(asked).toContainEqual({
        method: 'POST',
        path: '/api/v1/alerts/a-air/acknowledge',
        body: { note: 'V2 closed' },
      }),
    );
    await waitFor(() => expect(screen.queryByLabelText(/Note \(what/)).toBeNull());
    expect((await row('Preparation 2')).textContent).toContain('unacknowledged');
  });

  test('a refused acknowledgement says who was first and keeps what was written', async () => {
    stage('/');
    fireEvent.click(await screen.findByRole('button', { name: 'Acknowledge Deposition 2' }));
    const note = await screen.findByLabelText(/Note \(what/);
    fireEvent.change(note, { target: { value: 'mine' } });
    fireEvent.submit(note.closest('form') as HTMLFormElement);
    expect(await screen.findByText('Not yours: J. Ravn was first, 06:03:51.')).toBeTruthy();
    expect((screen.getByLabelText(/Note \(what/) as HTMLInputElement).value).toBe('mine');
  });

  test('shelving needs a time that lies ahead, at most a day, and a reason', async () => {
    const { asked } = stage('/');
    fireEvent.click(await screen.findByRole('button', { name: 'Shelve Preparation 2' }));
    const until = await screen.findByLabelText(/Until/);
    for (const [text, fault] of [
      ['2020-01-01 10:00', 'That time has passed.'],
      ['2199-01-01 10:00', 'Shelving lasts 24 hours at most.'],
      ['soon', /A date and a time are needed/],
    ] as const) {
      fireEvent.change(until, { target: { value: text } });
      expect(screen.getByText(fault)).toBeTruthy();
    }
    fireEvent.click(screen.getByRole('button', { name: /for 8/ }));
    fireEvent.change(screen.getByLabelText(/Reason/), { target: { value: 'seal on order' } });
    fireEvent.submit(until.closest('form') as HTMLFormElement);
    await waitFor(() => expect(asked.some(({ path }) => path === '/api/v1/alerts/a-air/shelve')).toBe(true));
    const sent = asked.find(({ path }) => path.endsWith('/shelve'))?.body as { until: string; reason: string };
    expect(sent.reason).toBe('seal on order');
    expect(Date.parse(sent.until) - Date.now()).toBeGreaterThan(7.9 * 3_600_000);
  });

  test('keys do nothing while a person types, and can be switched off', async () => {
    stage('/');
    const find = await screen.findByLabelText(/Find/);
    fireEvent.keyDown(find, { key: 'a' });
    expect(screen.queryByLabelText(/Note \(what/)).toBeNull();
    press('?');
    fireEvent.click(await screen.findByLabelText(/Keys are on/));
    fireEvent.click(screen.getByRole('button', { name: 'Close' }));
    press('a');
    expect(screen.queryByLabelText(/Note \(what/)).toBeNull();
  });

  test('chambers that share a cause are one entry that opens to their rows; the sign bar still counts each', async () => {
    stage('/', { together: true });
    const entry = await screen.findByRole('article', { name: 'Medium, Gas from a line, 3 chambers together' });
    const preparation = screen.getByRole('article', { name: 'Preparation 2' });
    expect(preparation.compareDocumentPosition(entry) & Node.DOCUMENT_POSITION_FOLLOWING).toBeTruthy();
    expect(entry.textContent).toContain('First look at the nitrogen line that serves all of them.');
    expect(screen.queryByRole('article', { name: 'Etch 3' })).toBeNull();
    expect(screen.getByRole('contentinfo').textContent).toMatch(/0 of 7 that need a look/);
    fireEvent.click(screen.getByRole('button', { name: 'Show the 3 chambers' }));
    expect(await screen.findByRole('article', { name: 'Etch 3' })).toBeTruthy();
    expect(screen.getAllByRole('article', { name: /^Etch [123]$/ }).length).toBe(3);
  });

  test('what is looked for stands in the address', async () => {
    stage('/?tag=uhv');
    expect(await row('Preparation 2')).toBeTruthy();
    expect(screen.queryByRole('article', { name: 'Monochromator' })).toBeNull();
    fireEvent.change(screen.getByLabelText(/Find/), { target: { value: 'zebra' } });
    expect(await screen.findByText('No chamber fits what you look for.')).toBeTruthy();
    expect(window.location.search).toBe('?find=zebra&tag=uhv');
  });

  test('signing signs every area that is shown, with the note, and counts who was opened', async () => {
    const { asked } = stage('/');
    expect(await screen.findByText(/0 of 5/)).toBeTruthy();
    fireEvent.change(await screen.findByLabelText('Note for the handover'), { target: { value: 'V2 is closed' } });
    press('Enter', { shiftKey: true });
    expect(await screen.findByText('Signed: 2 areas.')).toBeTruthy();
    const signed = asked.filter(({ path }) => path === '/api/v1/round/sign').map(({ body }) => body);
    expect(signed).toEqual([
      { area: 'beamline', note: 'V2 is closed' },
      { area: 'bay', note: 'V2 is closed' },
    ]);
  });

  test('a viewer may look and is told who may do more', async () => {
    stage('/', { role: 'viewer' });
    await row('Preparation 2');
    expect(screen.queryByRole('button', { name: /Acknowledge/ })).toBeNull();
    expect(screen.getByText(/You may look, not sign/)).toBeTruthy();
    expect(screen.getByRole('button', { name: /Sign as/ })).toHaveProperty('disabled', true);
  });
});

describe('states of the page', () => {
  test('an error says what is unknown, offers to try again and names the request', async () => {
    const { answer } = stage('/', {
      failing: { '/api/v1/round': { status: 500, detail: 'The database did not answer in 3 s.' } },
    });
    expect(await screen.findByText(/The round did not come: The database did not answer/)).toBeTruthy();
    expect(screen.getByText('7f3c-19ab')).toBeTruthy();
    answer('/api/v1/round', { status: 200, body: round(now) });
    fireEvent.click(screen.getByRole('button', { name: 'Try again' }));
    expect(await row('Preparation 2')).toBeTruthy();
  });

  test('without chambers it teaches: fleet, token, a command to copy', async () => {
    stage('/', { empty: true });
    expect((await verdict()).textContent).toMatch(/^Nothing is being watched yet/);
    expect(screen.getByText(/curl -X POST/).textContent).toContain(`${window.location.origin}/api/v1/scans`);
    expect(screen.getByLabelText('Fleet document (JSON)')).toBeTruthy();
  });

  test('cut off is said, the page goes on counting, and it catches up', async () => {
    const { stream } = stage('/');
    await row('Preparation 2');
    act(() => stream.drop());
    expect((await screen.findAllByText(/Cut off/)).length).toBeGreaterThan(0);
    expect(screen.getByText(/and is getting older/)).toBeTruthy();
    fireEvent.click(screen.getByRole('button', { name: 'Try now' }));
    expect(await screen.findByText('Caught up.')).toBeTruthy();
  });

  test('a new High is announced', async () => {
    const { stream, answer } = stage('/');
    await row('Preparation 2');
    const next = round(now);
    const leaking = next.areas[0]?.chambers.find(({ id }) => id === 'store');
    if (leaking) {
      Object.assign(leaking, {
        health: 'attention',
        worst: {
          id: 'a-new',
          signature: 'air-leak',
          priority: 'high',
          state: 'unacknowledged',
          summary: 'Air is leaking in.',
          firstStep: null,
          raisedAt: next.at,
        },
      });
    }
    answer('/api/v1/round', { status: 200, body: next });
    act(() => stream.say('alert', { chamber: 'store', id: 'a-new' }));
    expect(await screen.findByText('New, High. Store: Air is leaking in.')).toBeTruthy();
  });

  test('a session that has ended leads to the sign-in page and back', async () => {
    const { answer } = stage('/chambers/store?range=7d');
    await verdict();
    answer('/api/v1/session', {
      status: 200,
      body: {
        who: null,
        site: { name: 'Quillon', example: false, timeZone: 'UTC', unit: 'Pa' },
        needsSetUp: false,
        version: '0',
        now: new Date().toISOString(),
      },
    });
    answer('/api/v1/fleet', problem(401, 'Sign in.'));
    fireEvent.click(screen.getByRole('link', { name: /^Fleet/ }));
    expect(await screen.findByText(/Say who you are/)).toBeTruthy();
  });
});
