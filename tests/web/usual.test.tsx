// @vitest-environment jsdom
import { cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { prefer } from '../../web/frame/preferences.ts';
import { stage } from './fixture/stage.tsx';

const PINS = '/api/v1/analysers/preparation-2-a/pins';
const section = async () => within(await screen.findByRole('region', { name: 'What is usual' }));

beforeEach(() => {
  localStorage.clear();
  prefer({ keys: true, unit: null, theme: 'system', zone: 'site' });
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

describe('what is usual', () => {
  test('each state says where its baseline is from; versions stay with their reasons', async () => {
    stage('/chambers/preparation-2', { role: 'viewer' });
    const usual = await section();
    const pinned = (await usual.findByText('pinned')).closest('tr') as HTMLElement;
    expect(pinned.textContent).toMatch(/^transfer.*pinned, version 1 by M\. Tveit, for scans from/);
    expect(usual.getByText(/Only 12 quiet scans of base lie in this period/)).toBeTruthy();
    expect(usual.getByText(/put in force by M\. Tveit.*Compared with the old one/)).toBeTruthy();
    expect(usual.getAllByText(/needs the role engineer/).length).toBeGreaterThan(0);
  });

  test('a proposal stands beside what holds now, is rehearsed, put in force or withdrawn with a reason', async () => {
    const { asked } = stage('/chambers/preparation-2', { role: 'engineer' });
    const proposal = within(await screen.findByRole('article', { name: 'Proposed for base: version 3' }));
    expect(proposal.getByRole('row', { name: /^H₂O 6\.6×10⁻⁸.Pa 2\.6×10⁻⁸.Pa ÷2\.5$/ })).toBeTruthy();
    fireEvent.click(proposal.getByRole('button', { name: 'Rehearse on the last 90 days' }));
    await waitFor(() =>
      expect(asked.find(({ path }) => path === '/api/v1/rehearsals')?.body).toEqual({
        chamber: 'preparation-2',
        days: 90,
        change: { kind: 'baseline', pin: 'p-3' },
      }),
    );
    fireEvent.click(proposal.getByRole('button', { name: 'Put in force…' }));
    fireEvent.change(proposal.getByLabelText('Why (needed)'), { target: { value: 'rehearsed' } });
    fireEvent.click(proposal.getByRole('button', { name: 'Put it in force' }));
    await waitFor(() =>
      expect(asked).toContainEqual({ method: 'POST', path: `${PINS}/p-3/enforce`, body: { note: 'rehearsed' } }),
    );
  });

  test('a period is proposed with its state, both ends and why', async () => {
    const { asked } = stage('/chambers/preparation-2', { role: 'engineer' });
    const usual = await section();
    fireEvent.click((await usual.findAllByRole('button', { name: 'Learn from a chosen period' }))[0] as HTMLElement);
    const set = (name: RegExp, value: string) => fireEvent.change(usual.getByLabelText(name), { target: { value } });
    set(/Operating state/, 'transfer');
    set(/^From/, '2026-11-20 10:00');
    set(/^To/, '2026-11-20 09:00');
    expect(usual.getByText('The end must come after the start.')).toBeTruthy();
    set(/^To/, '2026-11-21 10:00');
    set(/Why this period/, 'dry');
    fireEvent.click(usual.getByRole('button', { name: 'Propose it' }));
    // Oslo keeps winter time, one hour ahead of UTC, in November.
    await waitFor(() =>
      expect(asked.find(({ method, path }) => method === 'POST' && path === PINS)?.body).toEqual({
        state: 'transfer',
        from: '2026-11-20T09:00:00.000Z',
        to: '2026-11-21T09:00:00.000Z',
        note: 'dry',
      }),
    );
  });
});

describe('limits', () => {
  test('are rehearsed before they are saved; the address keeps what came of it', async () => {
    const { asked } = stage('/chambers/preparation-2', { role: 'engineer' });
    fireEvent.click(await screen.findByRole('button', { name: 'Change limits' }));
    const form = within(
      (await screen.findByRole('button', { name: 'Save the limits' })).closest('form') as HTMLElement,
    );
    fireEvent.change(form.getAllByLabelText(/At most/)[0] as HTMLElement, { target: { value: '2e-7' } });
    fireEvent.click(form.getByRole('button', { name: 'Rehearse on the last 90 days' }));
    await waitFor(() => expect(new URLSearchParams(window.location.search).get('rehearsal')).toBe('re-1'));
    expect(asked.find(({ path }) => path === '/api/v1/rehearsals')?.body).toMatchObject({
      chamber: 'preparation-2',
      change: { kind: 'limits', limits: [{ gas: 'H2O', limitPa: 2e-7 }] },
    });
    expect(await form.findByText(/2 alerts more, 1 alert fewer and 1 alert at another time or priority/)).toBeTruthy();
    expect(form.queryByText(/rehearsed with other values/)).toBeNull();
    const table = within(form.getByRole('region', { name: 'What would be another' }));
    expect(table.getAllByText('not raised').length).toBe(3);
    fireEvent.change(form.getAllByLabelText(/At most/)[0] as HTMLElement, { target: { value: '3e-7' } });
    expect(form.getByText(/rehearsed with other values/)).toBeTruthy();
  });
});
