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
    stage('/compare?mode=two');
    await says(/^preparation-2-b adds gas of its own/);
    const table = await screen.findByRole('table');
    const rows = within(table).getAllByRole('rowheader');
    expect(rows[0]?.textContent).toContain('carbon monoxide');
    const monoxide = within(table).getByRole('row', { name: /carbon monoxide/ });
    expect(monoxide.textContent).toContain('×4.1 (3.4–4.9)');
    expect(monoxide.textContent).toContain('1.7×10⁻⁷\u00a0Pa (0.8–3.9)');
    expect(within(table).queryByRole('row', { name: /helium/ })).toBeNull();
    expect(screen.getByText('1 gas that neither analyser sees')).toBeTruthy();
    expect(within(table).getByRole('columnheader', { name: /relative to H₂O/ })).toBeTruthy();
  });

  test('chamber, both analysers, gas and span are asked for and stand in the address', async () => {
    const { asked } = stage('/compare?mode=two&chamber=preparation-2');
    await says(/adds gas of its own/);
    fireEvent.change(screen.getByLabelText(/Relative to/), { target: { value: 'Ar' } });
    fireEvent.click(screen.getByRole('button', { name: '7 d' }));
    fireEvent.click(screen.getByRole('button', { name: 'Swap' }));
    await waitFor(() =>
      expect(window.location.search).toBe(
        '?mode=two&chamber=preparation-2&first=preparation-2-b&second=preparation-2-a&relativeTo=Ar&range=7d',
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
    stage('/compare?mode=two');
    expect((await screen.findByRole('row', { name: /carbon monoxide/ })).textContent).toContain('4.1×10⁻¹⁰\u00a0mbar');
  });

  test('a question that cannot be answered is refused at its field', async () => {
    const { answer } = stage('/compare?mode=two');
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
    stage('/compare?mode=two&chamber=store');
    await says(/has no second analyser/);
    fireEvent.click(screen.getByRole('button', { name: 'Preparation 2' }));
    await says(/adds gas of its own/);
    stage('/compare?mode=two', { empty: true });
    await says(/^There are no chambers yet/);
  });

  test('an answer that did not come says so, with its request', async () => {
    stage('/compare?mode=two', {
      failing: { '/api/v1/chambers/preparation-2/comparison': { status: 500, detail: 'The database did not answer.' } },
    });
    expect(await screen.findByText(/The comparison did not come: The database did not answer/)).toBeTruthy();
    expect(screen.getByText('7f3c-19ab')).toBeTruthy();
  });
});

describe('before and after a repair', () => {
  const row = (gas: string) => screen.findByRole('row', { name: new RegExp(gas) });

  test('the head says that it worked; five likenesses; gas by gas with factor and judgement', async () => {
    stage('/compare?chamber=preparation-2');
    await says(
      /^The repair worked\. The leak fell from 1\.1×10⁻⁷ to below 2\.9×10⁻⁹\u00a0Pa·m³\/s \(95 %\): at least 38 times/,
    );
    const likenesses = screen.getAllByRole('term').map(({ textContent }) => textContent);
    expect(likenesses.slice(0, 5)).toEqual([
      'State',
      'Time since vent',
      'Temperature',
      'Analyser, calibration',
      'Scans',
    ]);
    expect(screen.getByText('76 h, 75 h')).toBeTruthy();
    expect(screen.getByText('Like was compared with like.')).toBeTruthy();
    expect((await row('nitrogen')).textContent).toContain('÷37 (31–45)');
    expect((await row('nitrogen')).textContent).toContain('back in its usual range');
    expect((await row('oxygen')).textContent).toContain('÷1\u202f700 at least');
    expect((await row('oxygen')).textContent).toContain('below 4.1×10⁻¹¹\u00a0Pa');
    expect((await row('carbon dioxide')).textContent).toContain('÷1.2 (');
    expect(screen.getByText('3 gases that neither side sees')).toBeTruthy();
  });

  test('what differs is said first, and when it can be told', async () => {
    stage('/compare?chamber=etch-3');
    await says(/^Before and after differ in time since vent, temperature and number of scans\. Cannot tell yet: /);
    expect(screen.getAllByText('differs')).toHaveLength(3);
    expect(screen.getByText(/^So far: oxygen fell at least 1\s700 times, nitrogen fell 37 times/)).toBeTruthy();
    expect(screen.getByText(/^Both will be equally long after their vents at about/)).toBeTruthy();
  });

  test('a chamber that was never opened teaches; no table, no likenesses', async () => {
    stage('/compare?chamber=store');
    await says(/^Nothing to compare yet/);
    expect(screen.queryByRole('table')).toBeNull();
    expect(screen.queryAllByRole('term')).toHaveLength(0);
  });

  test('an alert that stands: what it changed, and first that no repair is proved', async () => {
    stage('/compare?mode=before&chamber=front-end&alert=a-air');
    await says(
      /^The alert still stands: oxygen is at least 900 times what it was before it, nitrogen 18 times \(15–21\) and argon 17 times \(14–21\)\.$/,
    );
    expect(screen.getByText(/^The chamber has not been opened since the alert, so this proves no repair/)).toBeTruthy();
    expect((await row('nitrogen')).textContent).toContain('×18 (15–21)');
    expect((await row('nitrogen')).textContent).toContain('above its usual range now');
    expect((await row('hydrogen')).textContent).toContain('as usual');
    expect(screen.queryByText(/^There are scans on one side/)).toBeNull();
    expect(screen.getByText(/^Still growing: nitrogen 1\.3 times an hour/)).toBeTruthy();
    expect((await row('nitrogen')).textContent).toContain('growing ×1.3 (1.2–1.4) an hour');
    expect((await row('carbon dioxide')).textContent).toContain('no settled value');
    expect((await row('argon')).textContent).not.toMatch(/growing|falling/);
    expect(screen.getByText(/^After is where each gas was at /)).toBeTruthy();
  });

  test('the spectra of both sides are asked for when somebody wants to see them, and stand in the address', async () => {
    const { asked } = stage('/compare?chamber=preparation-2');
    await says(/^The repair worked/);
    const spectra = () => asked.filter(({ path }) => path.includes('/spectrum?')).map(({ path }) => path);
    expect(spectra()).toEqual([]);
    fireEvent.click(await screen.findByRole('button', { name: 'Show the spectra' }));
    const picture = await screen.findByRole('img', { name: /^Spectrum from .* Outlines: the scan of / });
    expect(picture.querySelectorAll('.sp-before').length).toBeGreaterThan(3);
    expect(new Set(spectra()).size).toBe(2);
    expect(
      spectra().every((path) => /\/chambers\/preparation-2\/spectrum\?analyser=preparation-2-a&at=/.test(path)),
    ).toBe(true);
    expect(window.location.search).toBe('?chamber=preparation-2&spectra=shown');
    expect(screen.getByRole('columnheader', { name: /^Before, Pa/, hidden: true })).toBeTruthy();
    fireEvent.keyDown(window, { key: 'l' });
    await waitFor(() => expect(window.location.search).toContain('scale=linear'));
    fireEvent.click(screen.getByRole('button', { name: 'Hide the spectra' }));
    await waitFor(() => expect(screen.queryByRole('img')).toBeNull());
  });

  test('a spectrum that is being worked out, or that did not come, is said', async () => {
    const path = '/api/v1/chambers/preparation-2/spectrum';
    const waiting = { status: 202, body: { state: 'waiting', at: '2026-11-26T06:00:00Z' } };
    const { answer } = stage('/compare?chamber=preparation-2');
    await says(/^The repair worked/);
    answer(path, waiting);
    fireEvent.click(await screen.findByRole('button', { name: 'Show the spectra' }));
    expect((await screen.findAllByText(/are being worked out/)).length).toBeGreaterThan(0);
    stage('/compare?chamber=preparation-2&spectra=shown', {
      failing: { [path]: { status: 500, detail: 'The database did not answer.' } },
    });
    expect(await screen.findByText(/The two spectra did not come: The database did not answer/)).toBeTruthy();
  });

  test('alert and times are asked for and stand in the address; the proposed ones can be had back', async () => {
    const { asked } = stage('/compare?chamber=preparation-2');
    await says(/^The repair worked/);
    fireEvent.change(screen.getByLabelText(/^Alert/), { target: { value: 'none' } });
    await says(/^What changed most: oxygen fell at least/);
    expect(window.location.search).toBe('?chamber=preparation-2&alert=none');
    expect(asked.some(({ path }) => path.endsWith('&alert='))).toBe(true);
    const [from] = screen.getAllByLabelText('from');
    fireEvent.change(from as HTMLElement, { target: { value: '2026-11-20 06:00' } });
    fireEvent.blur(from as HTMLElement);
    await waitFor(() => expect(window.location.search).toMatch(/beforeFrom=2026-11-20T05%3A00%3A00Z&beforeTo=/));
    fireEvent.click(screen.getByRole('button', { name: 'Times as proposed' }));
    await waitFor(() => expect(window.location.search).not.toContain('beforeFrom'));
  });

  test('keys choose the comparison, the chamber stays', async () => {
    stage('/compare?chamber=preparation-2');
    await says(/^The repair worked/);
    fireEvent.keyDown(window, { key: '2' });
    await says(/stands out among its sisters/);
    expect(window.location.search).toBe('?mode=sisters&chamber=preparation-2');
    fireEvent.keyDown(window, { key: '3' });
    await says(/adds gas of its own/);
    fireEvent.keyDown(window, { key: '1' });
    await says(/^The repair worked/);
  });

  test('an answer that did not come, a question that cannot be answered, a chamber that is not there', async () => {
    const failing = {
      '/api/v1/chambers/preparation-2/before-after': { status: 500, detail: 'The database did not answer.' },
    };
    stage('/compare?chamber=preparation-2', { failing });
    expect(await screen.findByText(/The comparison did not come: The database did not answer/)).toBeTruthy();
    const { answer } = stage('/compare?chamber=preparation-2');
    await says(/^The repair worked/);
    answer('/api/v1/chambers/preparation-2/before-after', {
      status: 422,
      body: {
        type: 'about:blank',
        title: 'Impossible',
        status: 422,
        detail: 'x',
        errors: [{ path: 'alert', problem: 'is not here' }],
      },
    });
    fireEvent.change(screen.getByLabelText(/^Alert/), { target: { value: 'a-old' } });
    expect((await screen.findByText('Is not here.')).getAttribute('role')).toBe('alert');
    stage('/compare?chamber=ghost');
    await says(/^There is no chamber ghost/);
    stage('/compare', { empty: true });
    await says(/^There are no chambers yet/);
  });

  test('pressures follow the unit of the reader', async () => {
    prefer({ unit: 'mbar' });
    stage('/compare?chamber=preparation-2');
    expect((await row('nitrogen')).textContent).toContain('3.3×10⁻⁹\u00a0mbar');
  });
});

describe('sister chambers', () => {
  test('the odd one out first, by level and by drift, with every sister in a table', async () => {
    stage('/compare?mode=sisters&chamber=preparation-2');
    await says(/^Preparation 2 stands out among its sisters: nitrogen is 38 times as high as the middle of them/);
    const table = (await screen.findAllByRole('table'))[0] as HTMLElement;
    expect(within(table).getAllByRole('rowheader')[0]?.textContent).toContain('nitrogen');
    expect(within(table).getByRole('row', { name: /nitrogen/ }).textContent).toContain('z +31');
    expect(within(table).getByRole('row', { name: /water/ }).textContent).toContain(
      'moved in 5 of 7 chambers: one cause',
    );
    expect(screen.getByText('Of the same kind, without scans in this state: Monochromator.')).toBeTruthy();
    expect(screen.getByRole('link', { name: 'Preparation 4', hidden: true })).toBeTruthy();
  });

  test('a few: each for itself, no z and no middle, and how many are missing', async () => {
    stage('/compare?mode=sisters&chamber=store');
    await says(/^Cannot tell: only two sisters of this kind in base/);
    expect(screen.getByText('Two sisters are missing before it can be told.')).toBeTruthy();
    const table = await screen.findByRole('table');
    expect(within(table).getByRole('columnheader', { name: /Preparation 3/ })).toBeTruthy();
    const nitrogen = within(table).getByRole('row', { name: /nitrogen/ });
    expect(nitrogen.textContent).toContain('7.0×10⁻⁹\u00a0Pa');
    expect(nitrogen.textContent).toContain('7.5×10⁻⁹\u00a0Pa');
    expect(nitrogen.querySelectorAll('path.sister')).toHaveLength(2);
    expect(table.textContent).not.toMatch(/middle|z [+−]|cannot tell/);
  });

  test('none: no table, but what a sister is and which chambers have some', async () => {
    stage('/compare?mode=sisters&chamber=mirror-1');
    await says(/^Mirror 1 has no sister in base to be compared with\.$/);
    expect(await screen.findByText('What a sister is')).toBeTruthy();
    expect(screen.queryByRole('table')).toBeNull();
    expect(screen.getByText(/the same word as kind/)).toBeTruthy();
    const link = screen.getByRole('link', { name: 'Preparation 2' });
    expect(link.getAttribute('href')).toBe('/compare?mode=sisters&chamber=preparation-2');
    fireEvent.click(link);
    await says(/^Preparation 2 stands out among its sisters/);
  });

  test.each([
    ['store', /^Cannot tell: only two sisters of this kind in base/],
    ['etch-3', /^Water has left the usual range in 5 of 7 chambers: look for one cause/],
    ['monochromator', /has no kind in the fleet document/],
  ])('%s', async (chamber, sentence) => {
    stage(`/compare?mode=sisters&chamber=${chamber}`);
    await says(sentence);
  });

  test('another state is asked for, and stands in the address', async () => {
    const { asked } = stage('/compare?mode=sisters&chamber=preparation-2');
    await says(/stands out/);
    fireEvent.change(screen.getByLabelText(/^State/), { target: { value: 'plasma' } });
    await says(/^Preparation 2 has no scans in plasma within the last 24 hours/);
    expect(window.location.search).toBe('?mode=sisters&chamber=preparation-2&state=plasma');
    expect(asked.some(({ path }) => /sisters\?state=plasma/.test(path))).toBe(true);
  });
});
