// @vitest-environment jsdom
import { cleanup, fireEvent, screen, waitFor } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { prefer } from '../../web/frame/preferences.ts';
import { problem } from './fixture/answers.ts';
import { alert } from './fixture/science.ts';
import { stage } from './fixture/stage.tsx';

const heading = () => screen.findByRole('heading', { level: 1 });

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
    expect((await heading()).textContent).toBe('3 alerts are open; 1 of them nobody has acknowledged.');
    expect(rows.map((row) => row.getAttribute('aria-label')?.split(',')[0])).toEqual(['High', 'Medium', 'Low']);
    expect(rows[1]?.textContent).toContain('J. Ravn knows since');
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
    fireEvent.change(screen.getByLabelText(/Cause found/), { target: { value: 'seal' } });
    fireEvent.click(screen.getByRole('button', { name: 'Close' }));
    await waitFor(() =>
      expect(asked).toContainEqual({ method: 'POST', path: '/api/v1/alerts/a-air/close', body: { cause: 'seal' } }),
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
      body: { ...alert(now, { state: 'shelved', shelvedUntil: new Date(now + 1e7).toISOString() }), moves: [] },
    });
    expect(await screen.findByRole('button', { name: 'Take it back now' })).toBeTruthy();
    expect(screen.queryByRole('button', { name: /^Acknowledge/ })).toBeNull();
    answer('/api/v1/alerts/a-air', problem(404, 'gone'));
    const over = stage('/alerts/a-air');
    over.answer('/api/v1/alerts/a-air', { status: 200, body: { ...alert(now, { state: 'normal' }), moves: [] } });
    await heading();
    expect(screen.queryByRole('button', { name: 'Close' })).toBeNull();
  });

  test('an alert that is not there', async () => {
    stage('/alerts/none');
    expect((await heading()).textContent).toBe('There is no alert none.');
  });
});
