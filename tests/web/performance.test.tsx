// @vitest-environment jsdom
import { cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { prefer } from '../../web/frame/preferences.ts';
import { stage } from './fixture/stage.tsx';

const heading = () => screen.findByRole('heading', { level: 1 });
const region = (name: string) => screen.findByRole('region', { name });

beforeEach(() => {
  localStorage.clear();
  prefer({ keys: true, unit: null, theme: 'system', zone: 'site' });
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

describe('how well the alerts do', () => {
  test('begins with the answer; every measure stands beside its target and its source', async () => {
    stage('/performance');
    await waitFor(async () => expect((await heading()).textContent).toMatch(/One of three measures misses its target/));
    const measures = within(await region('Measures'));
    const row = measures.getByRole('row', { name: /^Alerts that chatter/ });
    expect(row.textContent).toMatch(/1.*none.*a published target.*Missed/);
    expect(measures.getByRole('row', { name: /^Share of the ten/ }).textContent).toMatch(
      /too little to say.*Only 41 calls/,
    );
    expect(screen.getByRole('img', { name: /^Calls a day\. 40 calls on 30 days; most on/ })).toBeTruthy();
    expect(screen.getByText(/Flood of 11 calls from 9 chambers/)).toBeTruthy();
    expect(screen.getByRole('link', { name: /^Alerts/ }).getAttribute('aria-current')).toBe('page');
  });

  test('area, responder and span are asked for and stand in the address', async () => {
    const { asked } = stage('/performance');
    await region('Measures');
    fireEvent.change(screen.getByLabelText('Area'), { target: { value: 'bay' } });
    fireEvent.change(screen.getByLabelText('Whose response'), { target: { value: 'engineer' } });
    fireEvent.click(screen.getByRole('button', { name: '7 d' }));
    await waitFor(() => expect(window.location.search).toBe('?area=bay&responder=engineer&last=7d'));
    await waitFor(() => {
      const search = new URLSearchParams(
        asked.findLast(({ path }) => path.startsWith('/api/v1/performance?'))?.path.split('?')[1],
      );
      expect([search.get('area'), search.get('responder')]).toEqual(['bay', 'engineer']);
      expect(Date.parse(search.get('to') ?? '') - Date.parse(search.get('from') ?? '')).toBe(7 * 86_400_000);
    });
  });

  test('claimed against found leads to the alerts and says in words what is right', async () => {
    stage('/performance');
    const grid = await screen.findByRole('region', { name: 'Claimed against found, as a table' });
    const air = within(grid).getByRole('row', { name: /^Air leak/ });
    expect(air.textContent).toContain('3 right');
    expect(
      within(air).getByRole('link', { name: '1 right: Air leak claimed, Trapped volume found' }).getAttribute('href'),
    ).toBe('/alerts/a-air-4');
    expect(screen.getByText(/“likely” was said 3 times and was right 2 times/)).toBeTruthy();
    expect(screen.queryByText(/“open” was said/)).toBeNull();
  });

  test('an engineer withdraws an example in two presses; a viewer only reads', async () => {
    const { asked } = stage('/performance', { role: 'engineer' });
    fireEvent.click(await screen.findByRole('button', { name: /^Withdraw…/ }));
    fireEvent.click(screen.getByRole('button', { name: 'Withdraw it' }));
    await waitFor(() =>
      expect(asked).toContainEqual({ method: 'POST', path: '/api/v1/examples/e-1/withdraw', body: {} }),
    );
    stage('/performance', { role: 'viewer' });
    await screen.findByText(/it agrees with what was known/);
    expect(screen.queryByRole('button', { name: /^Withdraw/ })).toBeNull();
  });

  test('what cannot be read says so with its request; the rest of the page stands', async () => {
    stage('/performance', {
      failing: { '/api/v1/performance': { status: 500, detail: 'The database did not answer.' } },
    });
    expect(await screen.findByText(/The measures did not come: The database did not answer/)).toBeTruthy();
    expect(screen.getByText('7f3c-19ab')).toBeTruthy();
    expect(screen.getByRole('button', { name: 'Try again' })).toBeTruthy();
    expect(await screen.findByRole('region', { name: 'Claimed against found, as a table' })).toBeTruthy();
  });

  test('no example yet teaches where they come from; keys lead here and back', async () => {
    stage('/alerts', { empty: true });
    await heading();
    fireEvent.keyDown(document.body, { key: 'g' });
    fireEvent.keyDown(document.body, { key: 'p' });
    expect(await screen.findByText(/None is kept yet\. When an alert is closed/)).toBeTruthy();
    fireEvent.keyDown(document.body, { key: 'Escape' });
    await waitFor(() => expect(window.location.pathname).toBe('/alerts'));
  });
});
