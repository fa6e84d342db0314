// @vitest-environment jsdom
import { cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { prefer } from '../../web/frame/preferences.ts';
import { problem } from './fixture/answers.ts';
import { alertWithLife } from './fixture/science.ts';
import { stage, verdict } from './fixture/stage.tsx';

const heading = verdict;

beforeEach(() => {
  localStorage.clear();
  prefer({ keys: true, unit: null, theme: 'system', zone: 'site' });
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

describe('alerts', () => {
  test('those that are open, worst first, with what people know', async () => {
    stage('/alerts');
    const rows = await screen.findAllByRole('article');
    expect((await heading()).textContent).toBe(
      '3 alerts are open; 1 of them nobody has acknowledged. One is put aside.',
    );
    expect(rows.map((row) => row.getAttribute('aria-label')?.split(',')[0])).toEqual(['High', 'Medium']);
    expect(rows[1]?.textContent).toContain('J. Ravn knows since');
    const shelved = within(screen.getByRole('region', { name: 'Shelved' }));
    expect(shelved.getByText(/^until /)).toBeTruthy();
    expect(shelved.getByText('shelved 2 times so far')).toBeTruthy();
    fireEvent.change(screen.getByLabelText('State'), { target: { value: 'normal' } });
    expect(await screen.findByText('Water is 4 times the usual.')).toBeTruthy();
    expect(window.location.search).toBe('?state=normal');
  });

  test('one alert: cautions before steps, its life, and the moves that its state allows', async () => {
    const { asked } = stage('/alerts/a-air');
    expect((await heading()).textContent).toContain('Air is leaking in');
    const caution = await screen.findByText('Before anything is opened or switched');
    const step = screen.getByText(/First close valves one after another/);
    expect(caution.compareDocumentPosition(step) & Node.DOCUMENT_POSITION_FOLLOWING).toBeTruthy();
    expect(screen.getByText(/no interlock is to be bypassed/)).toBeTruthy();
    expect(screen.getByText('10 min; the shift can answer it')).toBeTruthy();
    const found = screen.getByLabelText(/What was found/) as HTMLSelectElement;
    // The watch claims an air leak: nothing is chosen for the person who closes.
    expect(found.value).toBe('');
    expect((screen.getByRole('button', { name: 'Close' }) as HTMLButtonElement).disabled).toBe(true);
    fireEvent.change(found, { target: { value: 'trapped-volume' } });
    expect(screen.getByText(/it shrinks by itself/)).toBeTruthy();
    fireEvent.change(screen.getByLabelText('In your words'), { target: { value: 'seal' } });
    fireEvent.click(screen.getByRole('button', { name: 'Close' }));
    await waitFor(() =>
      expect(asked).toContainEqual({
        method: 'POST',
        path: '/api/v1/alerts/a-air/close',
        body: { cause: 'seal', verified: 'trapped-volume' },
      }),
    );
  });

  test('a shelved one can be taken back, one that is over offers nothing', async () => {
    const now = Date.now();
    const { answer } = stage('/alerts/a-air');
    await heading();
    cleanup();
    const shelved = stage('/alerts/a-air');
    shelved.answer('/api/v1/alerts/a-air', {
      status: 200,
      body: alertWithLife(now, { state: 'shelved', shelvedUntil: new Date(now + 1e7).toISOString() }),
    });
    expect(await screen.findByRole('button', { name: 'Take it back now' })).toBeTruthy();
    expect(screen.queryByRole('button', { name: /^Acknowledge/ })).toBeNull();
    answer('/api/v1/alerts/a-air', problem(404, 'gone'));
    const over = stage('/alerts/a-air');
    over.answer('/api/v1/alerts/a-air', { status: 200, body: alertWithLife(now, { state: 'normal' }) });
    await heading();
    expect(screen.queryByRole('button', { name: 'Close' })).toBeNull();
  });

  test('the record says what to do, whose it is, and that another version has taken its place', async () => {
    stage('/alerts/a-air');
    expect(await screen.findByText('version 1, set by J. Ravn')).toBeTruthy();
    expect(screen.getByText('owner: vacuum group')).toBeTruthy();
    expect((await screen.findByText('Another record is in force now:')).parentElement?.textContent).toMatch(
      /version 2, set by J\. Ravn, for the kind preparation\. These steps are those of version 1/,
    );
  });

  test('latched, suppressed and out of service say until when and why; shelvings are counted', async () => {
    const now = Date.now();
    const { answer } = stage('/alerts/a-air');
    answer('/api/v1/alerts/a-air', {
      status: 200,
      body: alertWithLife(now, {
        latched: true,
        shelvings: 3,
        state: 'suppressed',
        suppressed: { since: new Date(now - 6e5).toISOString(), reason: 'the chamber is in bake' },
        outOfService: { until: new Date(now + 9e8).toISOString(), reason: 'new seal on order', by: 'J. Ravn' },
      }),
    });
    expect(await screen.findByText(/^Suppressed since .*: the chamber is in bake\.$/)).toBeTruthy();
    expect(screen.getByText(/^Out of service until .*, by J\. Ravn: new seal on order\.$/)).toBeTruthy();
    expect(screen.getByText(/^Latched: it stays until somebody resets it/)).toBeTruthy();
    expect(screen.getByText('It has been shelved 3 times.')).toBeTruthy();
  });

  test('a latched one whose condition has returned is reset', async () => {
    const { asked } = stage('/alerts/a-lat', { together: true, role: 'operator' });
    fireEvent.change(await screen.findByLabelText('Note (why it may go)'), { target: { value: 'wiped' } });
    fireEvent.click(screen.getByRole('button', { name: 'Reset the alert' }));
    await waitFor(() =>
      expect(asked).toContainEqual({ method: 'POST', path: '/api/v1/alerts/a-lat/reset', body: { note: 'wiped' } }),
    );
    expect(screen.queryByRole('button', { name: /Take out of service/ })).toBeNull();
  });

  test('an engineer takes it out of service, with a date and a reason, and returns it', async () => {
    const { asked } = stage('/alerts/a-air', { role: 'engineer' });
    fireEvent.click(await screen.findByRole('button', { name: 'Take out of service…' }));
    const until = screen.getAllByLabelText(/Until/).at(-1) as HTMLInputElement;
    fireEvent.change(until, { target: { value: '2199-01-01 10:00' } });
    expect(screen.getByText('Out of service lasts 90 days at most.')).toBeTruthy();
    fireEvent.click(screen.getByRole('button', { name: /for 7/ }));
    fireEvent.change(screen.getByLabelText(/what guards meanwhile/), { target: { value: 'gauge interlock' } });
    fireEvent.click(screen.getByRole('button', { name: 'Take out of service' }));
    await waitFor(() => expect(asked.some(({ path }) => path.endsWith('/out-of-service'))).toBe(true));
    expect(asked.find(({ path }) => path.endsWith('/out-of-service'))?.body).toMatchObject({
      reason: 'gauge interlock',
    });
    const out = stage('/alerts/a-out', { role: 'engineer', together: true });
    fireEvent.click(await screen.findByRole('button', { name: 'Return to service now' }));
    await waitFor(() =>
      expect(out.asked.some(({ path }) => path === '/api/v1/alerts/a-out/return-to-service')).toBe(true),
    );
  });

  test('a closed case is kept as an example in two presses; an operator is not asked', async () => {
    const { asked } = stage('/alerts/a-old', { role: 'engineer' });
    fireEvent.click(await screen.findByRole('button', { name: 'Keep as example' }));
    fireEvent.click(screen.getByRole('button', { name: 'Keep it' }));
    await waitFor(() =>
      expect(asked).toContainEqual({ method: 'POST', path: '/api/v1/alerts/a-old/example', body: {} }),
    );
    stage('/alerts/a-old', { role: 'operator' });
    await heading();
    expect(screen.queryByRole('button', { name: 'Keep as example' })).toBeNull();
  });

  test('what changed is drawn and, at a key, a table that never writes zero', async () => {
    stage('/alerts/a-air');
    const picture = await screen.findByRole('img', {
      name: /^Change spectrum\. Masses 28, 32, 14, 16, 40 and 2 more rose/,
    });
    expect(picture.getAttribute('aria-label')).toContain('mass 2 fell');
    fireEvent.keyDown(document.body, { key: 'd' });
    const table = await screen.findByRole('region', { name: 'The change as a table' });
    expect(within(table).getByRole('row', { name: /^28 5\.0×10⁻⁸.Pa \+2\.4×10⁻⁷.Pa, give or take/ })).toBeTruthy();
    expect(within(table).getByRole('row', { name: /^3 below detection at most 2\.1×10⁻¹¹.Pa$/ })).toBeTruthy();
  });

  test('chambers that share a cause are one entry, which opens to its members by keys', async () => {
    stage('/alerts', { together: true });
    const group = await screen.findByRole('article', { name: 'Medium, Gas from a line, 3 chambers together' });
    expect(group.textContent).toContain('one line serves them all');
    expect(screen.queryByRole('article', { name: /Etch 3/ })).toBeNull();
    fireEvent.keyDown(document.body, { key: 'j' });
    fireEvent.keyDown(document.body, { key: 'j' });
    fireEvent.keyDown(document.body, { key: 'Enter' });
    expect(await screen.findByRole('article', { name: /Etch 3/ })).toBeTruthy();
    expect(screen.getByRole('button', { name: 'Fold the 3 alerts' }).getAttribute('aria-expanded')).toBe('true');
    expect(
      within(screen.getByRole('region', { name: 'Suppressed' })).getByText('the chamber is in leak-check'),
    ).toBeTruthy();
    expect(
      within(screen.getByRole('region', { name: 'Out of service' })).getByText(/J\. Ravn: new analyser/),
    ).toBeTruthy();
  });

  test('groups that cannot be read leave a list of single alerts, and the page says so', async () => {
    stage('/alerts', { together: true, failing: { '/api/v1/alerts/groups': { status: 400, detail: 'no' } } });
    expect(await screen.findByText(/could not be read: each stands on its own/)).toBeTruthy();
    expect(screen.getAllByRole('article').length).toBe(6);
  });

  test('a member says how many others there are', async () => {
    stage('/alerts/a-line-2', { together: true });
    expect((await screen.findByText(/One of 3 chambers that changed together/)).textContent).toContain('all of Bay 2');
    expect(screen.getByRole('link', { name: 'Etch 2' })).toBeTruthy();
  });

  test('an alert that is not there', async () => {
    stage('/alerts/none');
    expect((await heading()).textContent).toBe('There is no alert none.');
  });
});
