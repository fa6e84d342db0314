// @vitest-environment jsdom
/** Every state of a chamber's page: what is not known is said before what is. */
import { cleanup, fireEvent, screen, waitFor } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { prefer } from '../../../web/frame/preferences.ts';
import { problem } from '../fixture/answers.ts';
import { round } from '../fixture/lines.ts';
import { chamberDetail } from '../fixture/science.ts';
import { stage, verdict } from '../fixture/stage.tsx';

const heading = verdict;
const press = (key: string) => fireEvent.keyDown(document.body, { key });
const store = (nowMs: number) => {
  const line = round(nowMs)
    .areas.flatMap(({ chambers }) => chambers)
    .find(({ id }) => id === 'store');
  if (!line) throw new Error('The fixture has a chamber store.');
  return chamberDetail(line);
};
const bar = (word: RegExp) =>
  screen.findByText(
    (_text, element) =>
      element?.tagName === 'SPAN' && word.test(element.textContent ?? '') && element.closest('.bar') !== null,
  );

beforeEach(() => {
  localStorage.clear();
  prefer({ keys: true, unit: null, theme: 'system', zone: 'site' });
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

describe('states of a chamber', () => {
  test('loading: a status for whoever cannot see it, and no sentence about the chamber', async () => {
    stage('/chambers/preparation-2');
    expect((await screen.findAllByText('Loading')).length).toBeGreaterThan(0);
    expect(screen.queryByRole('heading', { level: 1 })).toBeNull();
    await heading();
  });

  test('never sent: it teaches what comes next, and no part pretends to know', async () => {
    const now = Date.now();
    const none = 'Nothing of chamber store has been analysed yet.';
    const failing = Object.fromEntries(
      ['spectrum', 'readings/latest', 'scan'].map((part) => [
        `/api/v1/chambers/store/${part}`,
        { status: 404, detail: none },
      ]),
    );
    const { answer } = stage('/chambers/store', { failing });
    answer('/api/v1/chambers/store', {
      status: 200,
      body: { ...store(now), lastScanAt: null, health: 'learning', gases: {}, strip: [], say: 'No scan has come yet.' },
    });
    expect(await bar(/^No scan has come yet\. Its analyser needs a gateway with a token/)).toBeTruthy();
    expect(screen.getByRole('link', { name: 'fleet page' }).getAttribute('href')).toBe('/fleet');
    expect((await screen.findAllByText(none)).length).toBe(2);
    expect(await screen.findByText(/the first scan draws the first line/)).toBeTruthy();
    expect(screen.queryByText(/at rest/i)).toBeNull();
  });

  test('learning: how far it has come, and what that means', async () => {
    stage('/chambers/store-2');
    expect(await bar(/^Learning: 34 of 50 scans\. Until then nothing can be called usual/)).toBeTruthy();
  });

  test('blind: since when, before the last values; no word of health', async () => {
    stage('/chambers/monochromator');
    expect(await bar(/^Blind: the last scan is of .*, 6\sh 12\smin ago\. Nothing is known/)).toBeTruthy();
    expect(screen.queryByText(/at rest|nothing to do/i)).toBeNull();
  });

  test('stale: the age stands before the values', async () => {
    stage('/chambers/load-lock-2');
    expect(await bar(/^Stale: the last scan is of .*, 47\smin ago\./)).toBeTruthy();
  });

  test('at rest there is no bar', async () => {
    stage('/chambers/store');
    await heading();
    expect(document.querySelector('.bar')).toBeNull();
  });

  test('error: what is unknown, why, which request, and another try', async () => {
    const { answer } = stage('/chambers/store', {
      failing: { '/api/v1/chambers/store': { status: 500, detail: 'The database did not answer.' } },
    });
    expect(await screen.findByText(/The chamber did not come: The database did not answer/)).toBeTruthy();
    expect(screen.getByText('7f3c-19ab')).toBeTruthy();
    answer('/api/v1/chambers/store', { status: 200, body: store(Date.now()) });
    fireEvent.click(screen.getByRole('button', { name: 'Try again' }));
    expect(await screen.findByRole('heading', { level: 1, name: 'At rest for 41 days. Nothing to do.' })).toBeTruthy();
  });

  test('no permission: what is not theirs and who can give it', async () => {
    stage('/chambers/store', {
      failing: { '/api/v1/chambers/store': { status: 403, detail: 'Reading needs the role viewer.' } },
    });
    expect(await screen.findByText('Reading needs the role viewer.')).toBeTruthy();
    expect(screen.queryByRole('button', { name: 'Try again' })).toBeNull();
  });

  test('a viewer sees everything and is told why nothing can be pressed', async () => {
    stage('/chambers/preparation-2', { role: 'viewer' });
    await heading();
    expect(screen.queryByRole('button', { name: /^Acknowledge/ })).toBeNull();
    expect(screen.getByText(/Acknowledging, shelving and closing need the role operator/)).toBeTruthy();
    expect(screen.getByRole('link', { name: /Ticket/ })).toBeTruthy();
  });

  test('not found: said in a sentence, with a way on', async () => {
    stage('/chambers/nowhere');
    expect((await heading()).textContent).toBe('There is no chamber nowhere in the fleet.');
    expect(screen.getByRole('link', { name: 'Go to the round' })).toBeTruthy();
  });
});

describe('the spectrum', () => {
  test('goes back scan by scan with a key, says how the earlier one was worked out, and returns', async () => {
    const { asked } = stage('/chambers/preparation-2');
    await screen.findByRole('img', { name: /^Spectrum from 1 to 100 u/ });
    await waitFor(() =>
      expect(asked.some(({ path }) => path.startsWith('/api/v1/chambers/preparation-2/scan'))).toBe(true),
    );
    await waitFor(() =>
      expect((screen.getByRole('button', { name: 'The scan before' }) as HTMLButtonElement).disabled).toBe(false),
    );
    press(',');
    await waitFor(() => expect(window.location.search).toMatch(/scan=/));
    expect(
      await screen.findByText(/^Worked out again for this page, with calibration preparation-2-a\/1/),
    ).toBeTruthy();
    fireEvent.click(screen.getByRole('button', { name: 'Newest' }));
    await waitFor(() => expect(window.location.search).toBe(''));
    expect(screen.queryByText(/^Worked out again/)).toBeNull();
  });

  test('while a worker has it, that is said; nothing of another scan is drawn in its place', async () => {
    const at = '2026-11-01T03:04:00.000Z';
    const { answer } = stage(`/chambers/preparation-2?scan=${at}`);
    answer('/api/v1/chambers/preparation-2/spectrum', { status: 202, body: { state: 'waiting', at } });
    expect(await screen.findByText(/^The peaks of .* are being worked out/)).toBeTruthy();
    expect(screen.queryByRole('img', { name: /^Spectrum from/ })).toBeNull();
  });

  test('as a profile it is what was sent, in its own unit', async () => {
    stage('/chambers/preparation-2?peaks=profile');
    expect(
      await screen.findByRole('img', { name: /^Profile of the scan from 1 to 100 u in A; .* at 28/ }),
    ).toBeTruthy();
    expect(screen.getByText(/nothing is taken off/)).toBeTruthy();
  });

  test('an analyser without a profile says so and keeps the bars', async () => {
    const { answer } = stage('/chambers/preparation-2?peaks=profile');
    answer('/api/v1/chambers/preparation-2/scan', {
      status: 200,
      body: {
        ...{ at: new Date().toISOString(), analyser: 'a', scanId: 's', seconds: 8, averages: 1, detector: null },
        ...{ state: 'base', unit: 'A', gaugePa: null, masses: [1, 2, 3], values: [1e-12, null, 2e-12] },
        ...{ previousAt: null, nextAt: null },
      },
    });
    expect(await screen.findByText(/sends one value for each mass/)).toBeTruthy();
    expect(await screen.findByRole('img', { name: /^Spectrum from/ })).toBeTruthy();
  });

  test('its peaks are a table too', async () => {
    stage('/chambers/preparation-2');
    fireEvent.click(await screen.findByText('The peaks as a table'));
    const table = await screen.findByRole('region', { name: 'The peaks as a table' });
    expect(table.textContent).toContain('N₂ 83\u00a0%, CO 16\u00a0%, CO₂ 1\u00a0%');
  });
});

describe('the cross-hair', () => {
  test('is a moment in the address: its values, the spectrum of then, a note', async () => {
    const now = Date.now();
    const at = new Date(now - 3_600_000).toISOString().slice(0, 19);
    const { asked } = stage(`/chambers/preparation-2?gases=N2&cross=${at}Z`);
    await waitFor(() => expect(document.querySelector('.cross-line')?.textContent).toMatch(/N₂ \d\.\d×10/));
    press('n');
    const field = await screen.findByLabelText('What was done or seen');
    fireEvent.change(field, { target: { value: 'valve V2 closed' } });
    fireEvent.submit(field);
    await waitFor(() =>
      expect(asked).toContainEqual({
        method: 'POST',
        path: '/api/v1/chambers/preparation-2/notes',
        body: { at: `${at}.000Z`, text: 'valve V2 closed' },
      }),
    );
    fireEvent.click(screen.getByRole('button', { name: 'The spectrum then' }));
    await waitFor(() => expect(window.location.search).toContain('scan='));
  });

  test('without one a note asks for the moment first; a viewer is not asked', async () => {
    stage('/chambers/preparation-2');
    await screen.findByLabelText('Cross-hair at');
    press('n');
    expect(await screen.findByText(/^A note needs a moment/)).toBeTruthy();
    stage('/chambers/preparation-2', { role: 'viewer' });
    await screen.findByLabelText('Cross-hair at');
    press('n');
    expect(screen.queryByText(/^A note needs a moment/)).toBeNull();
  });

  test('a note that is refused says why and keeps the words', async () => {
    const { answer } = stage(
      '/chambers/preparation-2?cross=2026-01-01T00:00:00Z&from=2025-12-31T00:00:00Z&to=2026-01-01T12:00:00Z',
    );
    await screen.findByLabelText('Cross-hair at');
    press('n');
    const field = (await screen.findByLabelText('What was done or seen')) as HTMLInputElement;
    fireEvent.change(field, { target: { value: 'seen' } });
    answer('/api/v1/chambers/preparation-2/notes', problem(503, 'The database is away.'));
    fireEvent.submit(field);
    expect(await screen.findByText('The database is away.')).toBeTruthy();
    expect(field.value).toBe('seen');
  });
});
