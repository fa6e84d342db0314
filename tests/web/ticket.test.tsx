// @vitest-environment jsdom
import { cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { prefer } from '../../web/frame/preferences.ts';
import { lastText, medianText, rangeText } from '../../web/ticket/GasNumbers.tsx';
import { stage, verdict } from './fixture/stage.tsx';
import { ticket } from './fixture/ticket.ts';

const PATH = '/chambers/preparation-2/ticket';
const heading = verdict;

beforeEach(() => {
  localStorage.clear();
  prefer({ keys: true, unit: null, theme: 'system', zone: 'site' });
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

describe('a ticket', () => {
  test('says what is wrong, with evidence, picture, numbers, gaps, versions, cautions and digests', async () => {
    stage(`${PATH}?alert=a-air`);
    expect((await heading()).textContent).toContain('Air is leaking in');
    const picture = screen.getByRole('img', { name: /^Partial pressures of Preparation 2 in Pa/ });
    expect(decodeURIComponent(picture.getAttribute('src') ?? '')).toContain('<svg');
    expect(screen.getByRole('row', { name: /Ar to N₂/ })).toBeTruthy();
    const numbers = screen.getByRole('region', { name: 'Numbers' });
    expect(within(numbers).getByRole('columnheader', { name: 'Median, Pa' })).toBeTruthy();
    expect(within(numbers).getByRole('row', { name: /helium/ }).textContent).toContain('below 3.0×10⁻¹¹');
    expect(within(numbers).getByRole('row', { name: /deuterium/ }).textContent).toContain('not measured');
    expect(screen.getByText(/^No scans from \d{4}-\d\d-\d\d \d\d:\d\d [+−]\d\d:\d\d to .*: 42\smin\.$/)).toBeTruthy();
    expect(screen.getByText('preparation-2-a/1+c-2')).toBeTruthy();
    expect(screen.getByText('Ullage 0.1.0')).toBeTruthy();
    expect(screen.getByText(/: gate valve V2 closed for a minute$/)).toBeTruthy();
    expect(screen.getByText(/: helium bottle opened$/).textContent).toMatch(
      /J\. Ravn, written .*Withdrawn by M\. Tveit/,
    );
    expect(screen.getByText(/gas-safety procedure comes first/)).toBeTruthy();
    expect(screen.getByRole('row', { name: /manifest\.json 9f86/ })).toBeTruthy();
  });

  test('the span that was found becomes the address, and the zip has the same', async () => {
    stage(`${PATH}?alert=a-air`);
    await heading();
    await waitFor(() => expect(window.location.search).toMatch(/from=.*&to=.*&gases=N2%2CO2%2CAr%2CHe&alert=a-air/));
    const zip = screen.getByRole('link', { name: /Download the files/ });
    expect(zip.getAttribute('href')).toBe(`/api/v1/chambers/preparation-2/ticket${window.location.search}`);
    expect(zip.getAttribute('download')).toBe('ticket.zip');
  });

  test('a key downloads, a press prints, Esc leads back to the alert', async () => {
    const print = vi.fn();
    vi.stubGlobal('print', print);
    stage(`${PATH}?alert=a-air`);
    await heading();
    fireEvent.click(screen.getByRole('button', { name: 'Print or save as PDF' }));
    expect(print).toHaveBeenCalledOnce();
    const clicked = vi.fn((event: Event) => event.preventDefault());
    screen.getByRole('link', { name: /Download the files/ }).addEventListener('click', clicked);
    fireEvent.keyDown(document.body, { key: 't' });
    expect(clicked).toHaveBeenCalledOnce();
    fireEvent.keyDown(document.body, { key: 'Escape' });
    await waitFor(() => expect(window.location.pathname).toBe('/alerts/a-air'));
  });

  test('without an alert it says that none stood; without scans, that there is none', async () => {
    stage(PATH);
    expect((await heading()).textContent).toBe('No alert stood in this span.');
    const { answer } = stage(PATH);
    const now = Date.now();
    answer(`/api/v1${PATH}/sheet`, {
      status: 200,
      body: { ...ticket(now, new URLSearchParams()), scans: 0, gaps: [], alerts: [] },
    });
    expect((await heading()).textContent).toBe('There is no scan in this span.');
  });

  test('not found, impossible and failed are said as what they are', async () => {
    const sheet = `/api/v1${PATH}/sheet`;
    stage(`${PATH}?alert=ghost`, {
      failing: { [sheet]: { status: 404, detail: 'Chamber preparation-2 has no alert ghost.' } },
    });
    expect((await heading()).textContent).toBe('Chamber preparation-2 has no alert ghost.');
    const { answer } = stage(PATH, {
      failing: { [sheet]: { status: 500, detail: 'The readings could not be read.' } },
    });
    expect(await screen.findByText(/The ticket did not come: The readings could not be read/)).toBeTruthy();
    expect(screen.getByText('7f3c-19ab')).toBeTruthy();
    expect(screen.getByRole('button', { name: 'Try again' })).toBeTruthy();
    cleanup();
    void answer;
    const impossible = stage(`${PATH}?from=2026-01-01T00:00:00Z&to=2026-11-01T00:00:00Z`);
    impossible.answer(sheet, {
      status: 422,
      body: {
        ...{ type: 'about:blank', title: 'Impossible', status: 422, detail: 'The request cannot be done.' },
        errors: [{ path: 'from', problem: 'the span holds 900000 scans; a ticket holds at most 50000' }],
      },
    });
    expect((await heading()).textContent).toBe('No ticket can be made of this.');
    expect(screen.getByText(/from: the span holds 900000 scans/)).toBeTruthy();
  });
});

describe('a gas over the span', () => {
  const gases = ticket(Date.now(), new URLSearchParams()).gases;
  const of = (gas: string) => gases.find((one) => one.gas === gas) as (typeof gases)[number];
  test('zero is never written, nor a value where there is a limit', () => {
    expect([medianText(of('N2')), rangeText(of('N2')), lastText(of('N2'))]).toEqual([
      '8.6×10⁻⁹',
      '7.7×10⁻⁹ to 3.3×10⁻⁷',
      '3.3×10⁻⁷ (3.1–3.5)',
    ]);
    expect([medianText(of('He')), rangeText(of('He')), lastText(of('He'))]).toEqual([
      'below 3.0×10⁻¹¹',
      '—',
      'below 3.0×10⁻¹¹',
    ]);
    expect(lastText({ ...of('N2'), last: { at: '', value: 0, low: 0, high: 0, detected: true } })).toBe('no answer');
  });
});
