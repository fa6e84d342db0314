// @vitest-environment jsdom
import { cleanup, fireEvent, screen, waitFor } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { prefer } from '../../web/frame/preferences.ts';
import { problem } from './fixture/answers.ts';
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

describe('doors', () => {
  test('whoever opens a link lands on it after signing in', async () => {
    const { answer } = stage('/alerts?priority=high', { role: null });
    expect((await heading()).textContent).toBe('Quillon is watched here. Say who you are.');
    fireEvent.change(screen.getByLabelText('Login'), { target: { value: 'mt' } });
    fireEvent.change(screen.getByLabelText('Password'), { target: { value: 'wrong' } });
    answer('/api/v1/session', problem(401, 'The login and the password do not fit.'));
    fireEvent.click(screen.getByRole('button', { name: 'Sign in' }));
    expect(await screen.findByText('The login and the password do not fit.')).toBeTruthy();
    expect((screen.getByLabelText('Password') as HTMLInputElement).value).toBe('');
    expect(window.location.search).toBe('?to=%2Falerts%3Fpriority%3Dhigh');
  });

  test('the set-up link makes the first account; a broken one says so', async () => {
    const { asked } = stage('/set-up?key=k1', { role: null, needsSetUp: true });
    expect((await heading()).textContent).toMatch(/Make the first account/);
    fireEvent.change(screen.getByLabelText(/Your name/), { target: { value: 'Ines' } });
    fireEvent.change(screen.getByLabelText('Login'), { target: { value: 'ines' } });
    fireEvent.change(screen.getByLabelText(/Password/), { target: { value: 'four small grey pumps' } });
    fireEvent.submit(screen.getByLabelText('Login').closest('form') as HTMLFormElement);
    await waitFor(() =>
      expect(asked.find(({ path }) => path === '/api/v1/set-up')?.body).toEqual({
        key: 'k1',
        name: 'Ines',
        login: 'ines',
        password: 'four small grey pumps',
      }),
    );
    stage('/set-up', { role: null, needsSetUp: true });
    expect((await heading()).textContent).toMatch(/its key is missing/);
    stage('/set-up?key=k1', { role: null });
    expect((await heading()).textContent).toBe('This site is set up already.');
  });
});
