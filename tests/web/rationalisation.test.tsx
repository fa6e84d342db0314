// @vitest-environment jsdom
import { cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { prefer } from '../../web/frame/preferences.ts';
import { problem } from './fixture/answers.ts';
import { stage } from './fixture/stage.tsx';

const heading = () => screen.findByRole('heading', { level: 1 });
const says = (text: RegExp) => waitFor(async () => expect((await heading()).textContent).toMatch(text));
const press = (key: string) => fireEvent.keyDown(document.body, { key });
const type = (name: RegExp | string, value: string) =>
  fireEvent.change(screen.getByLabelText(name), { target: { value } });
const EDIT = '/rationalisation/air-leak?kind=preparation&edit=yes';

/** Choices of the person are kept on the way; they are not what these tests look at. */
const OWN = '/api/v1/me/preferences';

beforeEach(() => {
  localStorage.clear();
  prefer({ keys: true, unit: null, theme: 'system', zone: 'site' });
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

describe('why alerts are raised', () => {
  test('a line for every kind of alert; kind and words stand in the address', async () => {
    const { asked } = stage('/rationalisation');
    await says(/^24 kinds of alert.*has written one of them anew/);
    fireEvent.change(await screen.findByLabelText('Kind of chamber'), { target: { value: 'preparation' } });
    await waitFor(() =>
      expect(asked.some(({ path }) => path === '/api/v1/rationalisation?kind=preparation')).toBe(true),
    );
    type(/Find/, 'argon');
    await waitFor(() => expect(screen.getAllByRole('row').length).toBe(2));
    expect(window.location.search).toBe('?kind=preparation&find=argon');
    press('j');
    press('Enter');
    await waitFor(() => expect(window.location.pathname).toBe('/rationalisation/argon-bursts'));
    expect(window.location.search).toBe('?kind=preparation');
  });

  test('one record: its steps, the matrix, and who changed what and why', async () => {
    stage('/rationalisation/air-leak?kind=preparation', { role: 'viewer' });
    await says(/asks the shift to respond within 20.min\. Priority high: act now/);
    expect(
      screen.getByText(/By the matrix \(severe, within half an hour\) the priority is high, as chosen/),
    ).toBeTruthy();
    const history = within(await screen.findByRole('region', { name: 'History' }));
    const newest = (await history.findAllByRole('listitem'))[0] as HTMLElement;
    expect(newest.textContent).toMatch(/version 2.*in force.*J\. Ravn.*Leaks here come and go/);
    expect(newest.textContent).toMatch(/Time to respond.*before.*10.min.*after.*20.min/);
    expect(screen.getByText('Changing it needs the role engineer.')).toBeTruthy();
    press('Escape');
    await waitFor(() => expect(window.location.pathname).toBe('/rationalisation'));
  });

  test('a change is rehearsed over the kind, and saved with a note on the version that was looked at', async () => {
    const { asked } = stage(EDIT, { role: 'engineer' });
    await screen.findByRole('region', { name: 'Write it anew' });
    expect((screen.getByRole('button', { name: /^Rehearse/ }) as HTMLButtonElement).disabled).toBe(true);
    type('Time to respond', '2');
    type('in', 'd');
    expect(screen.getByText(/the priority is medium; high is chosen, and “why” must give the reason/)).toBeTruthy();
    type('Priority', 'medium');
    type('On-delay, scans', '5');
    fireEvent.click(screen.getByRole('button', { name: 'Rehearse on the last 90 days' }));
    await waitFor(() => expect(asked.some(({ path }) => path === '/api/v1/rehearsals')).toBe(true));
    expect(asked.find(({ path }) => path === '/api/v1/rehearsals')?.body).toMatchObject({
      chamberKind: 'preparation',
      days: 90,
      change: {
        kind: 'rationalisation',
        signature: 'air-leak',
        record: { onDelayScans: 5, timeToRespondMinutes: 2880 },
      },
    });
    await waitFor(() => expect(new URLSearchParams(window.location.search).get('rehearsal')).toBe('re-1'));
    type(/What was changed, and why/, 'slow leaks only');
    fireEvent.click(screen.getByRole('button', { name: 'Save the new version' }));
    await waitFor(() => expect(asked.some(({ method, path }) => method === 'PUT' && path !== OWN)).toBe(true));
    expect(asked.find(({ method, path }) => method === 'PUT' && path !== OWN)).toMatchObject({
      path: '/api/v1/rationalisation/air-leak',
      body: { kind: 'preparation', basedOn: 2, note: 'slow leaks only', record: { priority: 'medium' } },
    });
    await waitFor(() => expect(screen.queryByRole('region', { name: 'Write it anew' })).toBeNull());
  });

  test('who was first is said, and what was typed stays', async () => {
    const { answer } = stage(EDIT, { role: 'engineer' });
    await screen.findByRole('region', { name: 'Write it anew' });
    answer(
      '/api/v1/rationalisation/air-leak',
      problem(409, 'Version 2 is not in force: version 3 is, set by J. Ravn.'),
    );
    type('Owner', 'bay 2');
    type(/What was changed, and why/, 'another owner');
    fireEvent.click(screen.getByRole('button', { name: 'Save the new version' }));
    expect(await screen.findByText(/version 3 is, set by J\. Ravn/)).toBeTruthy();
    expect((screen.getByLabelText('Owner') as HTMLInputElement).value).toBe('bay 2');
    expect(screen.getByText('7f3c-19ab')).toBeTruthy();
  });

  test('what the server has against a field is told at the field', async () => {
    const { answer } = stage(EDIT, { role: 'engineer' });
    await screen.findByRole('region', { name: 'Write it anew' });
    answer('/api/v1/rationalisation/air-leak', {
      status: 422,
      body: {
        type: 'about:blank',
        title: 'Impossible',
        status: 422,
        errors: [{ path: '/record/onDelayScans', problem: 'must not be shorter than the built-in 3 scans' }],
      },
    });
    type('On-delay, scans', '1');
    type(/What was changed, and why/, 'faster');
    fireEvent.click(screen.getByRole('button', { name: 'Save the new version' }));
    await waitFor(() => expect(screen.getByLabelText('On-delay, scans').getAttribute('aria-describedby')).toBeTruthy());
  });

  test('no permission, no such kind of alert, an error', async () => {
    stage(EDIT, { role: 'operator' });
    expect(await screen.findByText(/writing it anew needs the role engineer/)).toBeTruthy();
    stage('/rationalisation/nonsense');
    await says(/^There is no kind of alert called nonsense\.$/);
    stage('/rationalisation', { failing: { '/api/v1/rationalisation': { status: 500, detail: 'No.' } } });
    expect(await screen.findByText(/The records did not come: No\./)).toBeTruthy();
    expect(screen.getByRole('button', { name: 'Try again' })).toBeTruthy();
  });
});
