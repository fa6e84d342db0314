// @vitest-environment jsdom
import { act, cleanup, fireEvent, screen, waitFor } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { prefer, readPreferences } from '../../web/frame/preferences.ts';
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

describe('the rest', () => {
  test('About says whether the answers are up to date', async () => {
    stage('/about');
    await waitFor(async () =>
      expect((await heading()).textContent).toMatch(/Every scan that came in has been analysed/),
    );
    expect(screen.getByRole('row', { name: /Ullage 0\.1\.0/ })).toBeTruthy();
  });

  test('a signed round shows what was seen', async () => {
    stage('/rounds/r-1');
    await waitFor(async () =>
      expect((await heading()).textContent).toMatch(/J\. Ravn signed Beamline 7 .* saw 11 chambers/),
    );
    expect(screen.getByText(/Bay 2: new seal on the load lock door/)).toBeTruthy();
  });

  test('an unknown page', async () => {
    stage('/nonsense');
    expect((await heading()).textContent).toBe('There is no such page.');
  });

  test('unit and theme follow the person at once', async () => {
    stage('/chambers/store');
    fireEvent.click(await screen.findByRole('button', { name: 'M. Tveit' }));
    fireEvent.change(screen.getByLabelText('Unit of pressure'), { target: { value: 'Torr' } });
    fireEvent.change(screen.getByLabelText('Theme'), { target: { value: 'dark' } });
    expect(document.documentElement.dataset.theme).toBe('dark');
    expect(await screen.findByText(/gauge 4\.7×10⁻⁹\sTorr/)).toBeTruthy();
    expect(JSON.parse(localStorage.getItem('ullage.preferences') ?? '{}')).toMatchObject({
      unit: 'Torr',
      theme: 'dark',
    });
  });

  test('stored preferences of any age and kind can be read', () => {
    for (const stored of [null, '', 'null', '[]', '{"unit":"psi","theme":7}', 'nonsense']) {
      expect(readPreferences(stored)).toEqual({ unit: null, theme: 'system', zone: 'site', keys: true });
    }
  });

  test('a stream that is refused because the session has ended leads to the sign-in page', async () => {
    const { answer, stream } = stage('/about');
    await heading();
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
    act(() => stream.drop());
    expect(await screen.findByText(/Say who you are/)).toBeTruthy();
    expect(window.location.search).toBe('?to=%2Fabout');
  });
});
