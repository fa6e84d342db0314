// @vitest-environment jsdom
import { cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { prefer } from '../../web/frame/preferences.ts';
import { stage } from './fixture/stage.tsx';

const heading = () => screen.findByRole('heading', { level: 1 });
const says = (text: RegExp) => waitFor(async () => expect((await heading()).textContent).toMatch(text));

beforeEach(() => {
  localStorage.clear();
  prefer({ keys: true, unit: null, theme: 'system', zone: 'site' });
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

describe('two analysers compared', () => {
  test('the head says which adds gas of its own; the table says it gas by gas', async () => {
    stage('/compare');
    await says(/^preparation-2-b adds gas of its own/);
    const table = await screen.findByRole('table');
    const rows = within(table).getAllByRole('rowheader');
    expect(rows[0]?.textContent).toContain('carbon monoxide');
    const monoxide = within(table).getByRole('row', { name: /carbon monoxide/ });
    expect(monoxide.textContent).toContain('×4.1 (3.4–4.9)');
    expect(monoxide.textContent).toContain('1.7×10⁻⁷\u00a0Pa (0.8–3.9)');
    expect(within(table).getByRole('row', { name: /helium/ }).textContent).toContain('cannot tell');
    expect(within(table).getByRole('columnheader', { name: /relative to H₂O/ })).toBeTruthy();
  });

  test('chamber, both analysers, gas and span are asked for and stand in the address', async () => {
    const { asked } = stage('/compare?chamber=preparation-2');
    await says(/adds gas of its own/);
    fireEvent.change(screen.getByLabelText(/Relative to/), { target: { value: 'Ar' } });
    fireEvent.click(screen.getByRole('button', { name: '7 d' }));
    fireEvent.click(screen.getByRole('button', { name: 'Swap' }));
    await waitFor(() =>
      expect(window.location.search).toBe(
        '?chamber=preparation-2&first=preparation-2-b&second=preparation-2-a&relativeTo=Ar&range=7d',
      ),
    );
    await waitFor(() =>
      expect(
        asked.some(({ path }) =>
          /comparison\?first=preparation-2-b&second=preparation-2-a&relativeTo=Ar&from=.*&to=/.test(path),
        ),
      ).toBe(true),
    );
  });

  test('pressures follow the unit of the reader', async () => {
    prefer({ unit: 'mbar' });
    stage('/compare');
    expect((await screen.findByRole('row', { name: /carbon monoxide/ })).textContent).toContain('4.1×10⁻¹⁰\u00a0mbar');
  });

  test('a question that cannot be answered is refused at its field', async () => {
    const { answer } = stage('/compare');
    await says(/adds gas of its own/);
    answer('/api/v1/chambers/preparation-2/comparison', {
      status: 422,
      body: {
        type: 'about:blank',
        title: 'Impossible',
        status: 422,
        detail: 'relativeTo: argon is not seen by both of them',
        errors: [{ path: 'relativeTo', problem: 'argon is not seen by both of them' }],
      },
    });
    fireEvent.change(screen.getByLabelText(/Relative to/), { target: { value: 'Ar' } });
    expect((await screen.findByText('Argon is not seen by both of them.')).getAttribute('role')).toBe('alert');
    await says(/^Nothing can be said/);
  });

  test('a chamber with one analyser, and a fleet without a pair, teach', async () => {
    stage('/compare?chamber=store');
    await says(/has no second analyser/);
    fireEvent.click(screen.getByRole('button', { name: 'Preparation 2' }));
    await says(/adds gas of its own/);
    stage('/compare', { empty: true });
    await says(/^No chamber has two analysers/);
  });

  test('an answer that did not come says so, with its request', async () => {
    stage('/compare', {
      failing: { '/api/v1/chambers/preparation-2/comparison': { status: 500, detail: 'The database did not answer.' } },
    });
    expect(await screen.findByText(/The comparison did not come: The database did not answer/)).toBeTruthy();
    expect(screen.getByText('7f3c-19ab')).toBeTruthy();
  });
});
