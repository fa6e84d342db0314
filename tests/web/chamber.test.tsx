// @vitest-environment jsdom
import { cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { limitsFrom, rowOf } from '../../web/chamber/LimitsSection.tsx';
import { logOf } from '../../web/chamber/LogSection.tsx';
import { namesAnalyser } from '../../web/chamber/ReadingsSection.tsx';
import { prefer } from '../../web/frame/preferences.ts';
import { notes, states } from './fixture/history.ts';
import { alerts } from './fixture/science.ts';
import { stage, verdict } from './fixture/stage.tsx';

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

describe('a chamber', () => {
  test('gives the four answers, its evidence, and the ticket for what is shown', async () => {
    stage('/chambers/preparation-2');
    expect((await heading()).textContent).toContain('Air is leaking in');
    for (const question of ['How sure', 'First', 'What would settle it', 'What else it could be']) {
      expect(await screen.findByRole('heading', { name: question })).toBeTruthy();
    }
    expect(screen.getByText('Nearly certain.')).toBeTruthy();
    expect(screen.getByText('Close valve V2: the side that keeps rising has the leak.')).toBeTruthy();
    const evidence = (await screen.findByRole('heading', { name: 'Evidence' })).closest('section') as HTMLElement;
    expect(within(evidence).getByRole('row', { name: /Ar to N₂/ }).textContent).toContain('0.0124 (0.0108–0.0141)');
    expect(within(evidence).getByRole('row', { name: /Peaks 36 to 40/ }).textContent).toContain('below 0.0073');
    const ticket = screen.getByRole('link', { name: /Ticket/ }).getAttribute('href');
    expect(ticket).toMatch(/^\/chambers\/preparation-2\/ticket\?from=.*&gases=N2%2CO2%2CAr.*&alert=a-air$/);
  });

  test('spectrum and trend are pictures with a sentence', async () => {
    stage('/chambers/preparation-2');
    const spectrum = await screen.findByRole('img', { name: /^Spectrum from 1 to 100 u/ });
    expect(spectrum.getAttribute('aria-label')).toContain('unexplained peaks at 48, 64');
    const trend = await screen.findByRole('img', { name: /^Trend from/ });
    expect(trend.getAttribute('aria-label')).toMatch(/nitrogen \S+\sPa to \S+\sPa, last/);
    await waitFor(() => expect(trend.getAttribute('aria-label')).toContain('1 gap without scans'));
  });

  test('the trend is a table one key away, in the unit of the reader, and the address says so', async () => {
    prefer({ unit: 'mbar' });
    stage('/chambers/preparation-2?gases=N2,O2');
    await screen.findByRole('img', { name: /^Trend from/ });
    press('d');
    const table = await screen.findByRole('region', { name: 'The trend as a table' });
    expect(within(table).getByRole('columnheader', { name: 'N₂, mbar' })).toBeTruthy();
    expect(table.textContent).toContain('below 3.0×10⁻¹³');
    expect(window.location.search).toContain('view=table');
  });

  test('zoom by keys and by fields, kept in the address, and back to now', async () => {
    stage('/chambers/preparation-2');
    await screen.findByRole('img', { name: /^Trend from/ });
    press('+');
    await waitFor(() => expect(window.location.search).toMatch(/from=.*&to=/));
    press('0');
    await waitFor(() => expect(window.location.search).toBe(''));
    const from = screen.getByLabelText('from');
    fireEvent.change(from, { target: { value: '2026-01-02 03:04' } });
    fireEvent.change(screen.getByLabelText('to'), { target: { value: '2026-01-03 03:04' } });
    fireEvent.blur(from);
    await waitFor(() =>
      expect(window.location.search).toBe('?from=2026-01-02T02%3A04%3A00Z&to=2026-01-03T02%3A04%3A00Z'),
    );
  });

  test('two gases of one colour are never drawn together: the second asks which to drop', async () => {
    stage('/chambers/preparation-2?gases=H2,N2');
    const helium = await screen.findByLabelText('He');
    fireEvent.click(helium);
    fireEvent.click(await screen.findByRole('button', { name: 'Draw He instead of H₂' }));
    await waitFor(() => expect(window.location.search).toBe('?gases=He%2CN2'));
  });

  test('a recomputation stands beside what was judged, named, and can be left out again', async () => {
    const { asked } = stage('/chambers/preparation-2?gases=N2&recomputation=t-3');
    const trend = await screen.findByRole('img', { name: /Recomputed beside it, dashed: nitrogen/ });
    expect(trend.getAttribute('aria-label')).toMatch(/^Trend from/);
    expect(screen.getByText('Dashed: recomputed')).toBeTruthy();
    expect(
      asked.filter(({ path }) => path.includes('/trend?')).map(({ path }) => path.includes('recomputation')),
    ).toEqual(expect.arrayContaining([true, false]));
    press('d');
    const table = await screen.findByRole('region', { name: 'The trend as a table' });
    expect(within(table).getByRole('columnheader', { name: 'N₂ recomputed, Pa' })).toBeTruthy();
    fireEvent.click(screen.getByRole('button', { name: 'Leave it out' }));
    await waitFor(() => expect(window.location.search).not.toContain('recomputation'));
  });

  test('without a recomputation none is asked for', async () => {
    const { asked } = stage('/chambers/preparation-2?gases=N2');
    await screen.findByRole('img', { name: /^Trend from/ });
    expect(asked.some(({ path }) => path.includes('recomputation'))).toBe(false);
  });

  test('the analyser is one step away, and so is the comparison with its second', async () => {
    stage('/chambers/preparation-2');
    const measures = await screen.findByRole('link', { name: 'How well it measures' });
    expect(measures.getAttribute('href')).toBe('/measurement/preparation-2-a');
    expect(screen.getByRole('link', { name: 'Compare its analysers' }).getAttribute('href')).toBe(
      '/compare?chamber=preparation-2',
    );
    expect(namesAnalyser('The multiplier has lost gain.')).toBe(true);
    expect(namesAnalyser('Nitrogen and carbon monoxide cannot be told apart.')).toBe(false);
  });

  test('one of several analysers is chosen, and everything below follows', async () => {
    const { asked } = stage('/chambers/preparation-2');
    fireEvent.change(await screen.findByLabelText(/Analyser/), { target: { value: 'preparation-2-b' } });
    await waitFor(() => {
      for (const part of ['spectrum', 'trend', 'readings/latest']) {
        expect(asked.some(({ path }) => path.includes(`/${part}?`) && path.includes('preparation-2-b'))).toBe(true);
      }
    });
  });

  test('at rest there is a sentence and no alarm', async () => {
    stage('/chambers/store');
    expect((await heading()).textContent).toBe('At rest for 41 days. Nothing to do.');
    expect(screen.queryByText('How sure')).toBeNull();
    expect(screen.queryByRole('button', { name: /Acknowledge/ })).toBeNull();
  });

  test('one that is not there is said to be not there; a part that fails does not take the rest with it', async () => {
    stage('/chambers/nowhere');
    expect((await heading()).textContent).toBe('There is no chamber nowhere in the fleet.');
    stage('/chambers/preparation-2', {
      failing: { '/api/v1/chambers/preparation-2/trend': { status: 500, detail: 'The series could not be read.' } },
    });
    expect(await screen.findByText(/The trend did not come: The series could not be read/)).toBeTruthy();
    expect(await screen.findByRole('img', { name: /^Spectrum/ })).toBeTruthy();
  });

  test('nothing analysed yet: said instead of drawn', async () => {
    stage('/chambers/store', {
      failing: {
        '/api/v1/chambers/store/spectrum': { status: 404, detail: 'Nothing of chamber store has been analysed yet.' },
      },
    });
    expect(await screen.findByText('Nothing of chamber store has been analysed yet.')).toBeTruthy();
  });

  test('limits are for engineers, in the unit of the reader, and stored in pascal', async () => {
    const { asked } = stage('/chambers/preparation-2', { role: 'engineer' });
    fireEvent.click(await screen.findByRole('button', { name: 'Change limits' }));
    fireEvent.change(screen.getAllByLabelText(/At most, Pa/)[0] as HTMLElement, { target: { value: '2e-7' } });
    fireEvent.click(screen.getByRole('button', { name: 'Save the limits' }));
    await waitFor(() =>
      expect(asked.find(({ method, path }) => method === 'PUT' && path.endsWith('/limits'))?.body).toEqual({
        limits: [{ gas: 'H2O', limitPa: 2e-7, priority: 'medium', note: 'before a transfer' }],
      }),
    );
    stage('/chambers/preparation-2', { role: 'operator' });
    expect(await screen.findByText('Changing limits needs the role engineer.')).toBeTruthy();
  });

  test('a limit that is typed comes back as it was, and nonsense is refused', () => {
    const limit = { gas: 'H2O', limitPa: 5e-7, priority: 'high' as const };
    expect(limitsFrom([rowOf(limit, 'mbar')], 'mbar')?.[0]?.limitPa).toBeCloseTo(5e-7, 12);
    for (const pressure of ['0', '-1', 'much', '']) {
      expect(limitsFrom([{ gas: 'H2O', pressure, priority: 'low', note: '' }], 'Pa')).toBeNull();
    }
    expect(limitsFrom([{ gas: '', pressure: '', priority: 'low', note: '' }], 'Pa')).toEqual([]);
  });

  test('the log tells states, alerts and what people did, newest first', () => {
    const now = Date.now();
    const log = logOf(
      {
        alerts: alerts(now),
        states: states(now).spans.map((span) => ({ ...span, state: 'base' as const })),
        notes: notes(now),
      },
      now - 1e9,
    );
    expect(log.map(({ at }) => at)).toEqual(log.map(({ at }) => at).sort((a, b) => b - a));
    expect(log.some(({ text }) => text === 'Note: sample plate in (J. Ravn)')).toBe(true);
    expect(log.some(({ text }) => text.includes('acknowledged by J. Ravn: “Product is on hold.”'))).toBe(true);
  });
});
