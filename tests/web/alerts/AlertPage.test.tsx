// @vitest-environment jsdom
/** Every state of an alert's page, and what can be done at its head. */
import { cleanup, fireEvent, screen, waitFor } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { prefer } from '../../../web/frame/preferences.ts';
import { alertWithLife } from '../fixture/science.ts';
import { stage, verdict } from '../fixture/stage.tsx';

const heading = verdict;
const press = (key: string) => fireEvent.keyDown(document.body, { key });

beforeEach(() => {
  localStorage.clear();
  prefer({ keys: true, unit: null, theme: 'system', zone: 'site' });
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

describe('states of an alert', () => {
  test('loading', async () => {
    stage('/alerts/a-air');
    expect((await screen.findAllByText('Loading')).length).toBeGreaterThan(0);
    await heading();
  });

  test('error: what is unknown, the request, another try', async () => {
    const { answer } = stage('/alerts/a-air', {
      failing: { '/api/v1/alerts/a-air': { status: 500, detail: 'The database did not answer.' } },
    });
    expect(await screen.findByText(/The alert did not come: The database did not answer/)).toBeTruthy();
    expect(screen.getByText('7f3c-19ab')).toBeTruthy();
    answer('/api/v1/alerts/a-air', { status: 200, body: alertWithLife(Date.now()) });
    fireEvent.click(screen.getByRole('button', { name: 'Try again' }));
    expect(await screen.findByRole('heading', { level: 1, name: /Air is leaking in/ })).toBeTruthy();
  });

  test('no permission', async () => {
    stage('/alerts/a-air', {
      failing: { '/api/v1/alerts/a-air': { status: 403, detail: 'Reading needs the role viewer.' } },
    });
    expect(await screen.findByText('Reading needs the role viewer.')).toBeTruthy();
  });

  test('not found', async () => {
    stage('/alerts/ghost');
    expect((await heading()).textContent).toBe('There is no alert ghost.');
  });

  test('without numbers its evidence says so', async () => {
    const { answer } = stage('/alerts/a-air');
    answer('/api/v1/alerts/a-air', { status: 200, body: alertWithLife(Date.now(), { evidence: [] }) });
    expect(await screen.findByText(/carries no numbers/)).toBeTruthy();
  });
});

describe('the head of an alert', () => {
  test('answers in order: verdict, four answers, strip, what can be done, evidence, life', async () => {
    stage('/alerts/a-air');
    await heading();
    const strip = await screen.findByRole('img', { name: /^Above its own baseline/ });
    const order = [
      await heading(),
      strip,
      screen.getByRole('heading', { name: 'How sure' }),
      screen.getByRole('heading', { name: 'First' }),
      screen.getByRole('heading', { name: 'What would settle it' }),
      screen.getByRole('heading', { name: 'What else it could be' }),
      screen.getByRole('button', { name: 'Acknowledge' }),
      screen.getByRole('heading', { name: 'Evidence' }),
      screen.getByRole('heading', { name: 'Its life so far' }),
    ];
    for (const [i, element] of order.slice(1).entries()) {
      const before = order[i] as Element;
      expect(before.compareDocumentPosition(element) & Node.DOCUMENT_POSITION_FOLLOWING).toBeTruthy();
    }
  });

  test('two presses acknowledge', async () => {
    const { asked } = stage('/alerts/a-air');
    fireEvent.click(await screen.findByRole('button', { name: 'Acknowledge' }));
    fireEvent.click(await screen.findByRole('button', { name: 'Acknowledge as M. Tveit' }));
    await waitFor(() =>
      expect(asked).toContainEqual({ method: 'POST', path: '/api/v1/alerts/a-air/acknowledge', body: {} }),
    );
  });

  test('a key opens the note, and the ticket and the comparison are a key away', async () => {
    stage('/alerts/a-air');
    await heading();
    press('a');
    const note = await screen.findByLabelText(/^Note \(what you know/);
    expect(document.activeElement).toBe(note);
    fireEvent.keyDown(note, { key: 'Escape' });
    await waitFor(() => expect(screen.queryByLabelText(/^Note \(what you know/)).toBeNull());
    press('c');
    await waitFor(() => expect(window.location.pathname).toBe('/compare'));
    expect(Object.fromEntries(new URLSearchParams(window.location.search))).toMatchObject({
      ...{ mode: 'before', chamber: 'preparation-2', alert: 'a-air' },
    });
    cleanup();
    stage('/alerts/a-air');
    await heading();
    press('t');
    await waitFor(() => expect(window.location.pathname).toBe('/chambers/preparation-2/ticket'));
  });

  test('one that was acknowledged says by whom; it may still be shelved', async () => {
    stage('/alerts/a-oil');
    expect(await screen.findByText(/^J\. Ravn knows since .*: “Product is on hold\.”$/)).toBeTruthy();
    expect(screen.queryByRole('button', { name: 'Acknowledge' })).toBeNull();
    expect(screen.getByRole('button', { name: 'Shelve' })).toBeTruthy();
  });

  test('how the watch weighed it is apart from what was measured', async () => {
    const { answer } = stage('/alerts/a-air');
    const weighed = { name: 'Odds against the next cause, natural log', value: 4.69e5, unit: '1', expected: 'above 3' };
    const measured = { name: 'Nitrogen', value: 2e-8, unit: 'Pa', expected: null, verdict: 'above its usual range' };
    answer('/api/v1/alerts/a-air', {
      status: 200,
      body: alertWithLife(Date.now(), { evidence: [{ ...weighed, verdict: 'clear of the next cause' }, measured] }),
    });
    const row = await screen.findByRole('row', { name: /^Nitrogen/ });
    expect(row.closest('details')).toBeNull();
    expect(screen.getByText(/^For engineers: how the watch weighed this/).closest('details')?.open).toBe(false);
  });
});
