// @vitest-environment jsdom
import { cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { prefer } from '../../web/frame/preferences.ts';
import { problem } from './fixture/answers.ts';
import { stage } from './fixture/stage.tsx';

const heading = () => screen.findByRole('heading', { level: 1 });
const says = (text: RegExp) => waitFor(async () => expect((await heading()).textContent).toMatch(text));
const press = (key: string) => fireEvent.keyDown(document.body, { key });
const field = (name: RegExp) => screen.getByLabelText(name) as HTMLInputElement;
const type = (name: RegExp, value: string) => fireEvent.change(field(name), { target: { value } });
const ONE = '/measurement/preparation-2-a';
const TRAP = '/measurement/preparation-2-b';

beforeEach(() => {
  localStorage.clear();
  prefer({ keys: true, unit: null, theme: 'system', zone: 'site' });
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

describe('the list of analysers', () => {
  test('begins with how many need a look; their sentence stands over their numbers', async () => {
    stage('/measurement');
    await says(/^Two of 27 analysers need a look before you trust them\./);
    const beamline = await screen.findByRole('region', { name: 'Beamline 7' });
    const rows = within(beamline).getAllByRole('rowheader');
    expect(rows[0]?.textContent).toContain('preparation-2-b');
    expect(within(beamline).getByText(/The multiplier has lost gain: 410 now/)).toBeTruthy();
    expect(screen.getByRole('link', { name: 'Measurement' }).getAttribute('aria-current')).toBe('page');
  });

  test('is filtered by area and by remark, and the address keeps it', async () => {
    stage('/measurement');
    await screen.findByRole('region', { name: 'Beamline 7' });
    fireEvent.click(screen.getByLabelText('only those with a remark'));
    await waitFor(() => expect(screen.queryByRole('region', { name: 'Bay 2' })).toBeNull());
    expect(window.location.search).toBe('?show=with-remark');
    fireEvent.change(screen.getByLabelText(/Area/), { target: { value: 'bay' } });
    expect(await screen.findByText('No analyser fits what you look for.')).toBeTruthy();
  });

  test('is walked and opened by keys', async () => {
    stage('/');
    await heading();
    press('g');
    press('m');
    await waitFor(() => expect(window.location.pathname).toBe('/measurement'));
    await screen.findByRole('region', { name: 'Beamline 7' });
    press('j');
    press('Enter');
    await waitFor(() => expect(window.location.pathname).toBe(TRAP));
    await says(/1\.31 times below the gauge/);
    press('Escape');
    await waitFor(() => expect(window.location.pathname).toBe('/measurement'));
  });

  test('an empty fleet teaches; a failure says what is unknown, with its request', async () => {
    stage('/measurement', { empty: true });
    await says(/^No analyser is in the fleet yet/);
    expect(screen.getByText(/each has a line here/)).toBeTruthy();
    stage('/measurement', {
      failing: { '/api/v1/measurement': { status: 500, detail: 'The database did not answer.' } },
    });
    expect(await screen.findByText(/The analysers did not come: The database did not answer/)).toBeTruthy();
    expect(screen.getByText('7f3c-19ab')).toBeTruthy();
  });

  test('the multiple of σ is shown to all and changed by engineers', async () => {
    const { asked } = stage('/measurement', { role: 'engineer' });
    fireEvent.click(await screen.findByRole('button', { name: 'Change the multiple' }));
    type(/Multiple of σ/, '11');
    expect(screen.getByText('A number from 1 to 10.')).toBeTruthy();
    expect((screen.getByRole('button', { name: 'Save' }) as HTMLButtonElement).disabled).toBe(true);
    type(/Multiple of σ/, '4,5');
    fireEvent.click(screen.getByRole('button', { name: 'Save' }));
    await waitFor(() =>
      expect(asked.find(({ method, path }) => method === 'PUT' && /measurement/.test(path))?.body).toEqual({
        detectionMultiple: 4.5,
      }),
    );
    stage('/measurement', { role: 'viewer' });
    expect(await screen.findByText('Changing the multiple needs the role engineer.')).toBeTruthy();
  });
});

describe('one analyser', () => {
  test('says its verdict and every number in the evidence form, in the unit of the reader', async () => {
    prefer({ unit: 'mbar' });
    stage(ONE);
    await says(/^Nothing speaks against this analyser\. It sees down to 2\.8×10⁻¹³\smbar, 4\.1 decades/);
    const table = (await screen.findByRole('heading', { name: 'How well it measures' })).closest(
      'section',
    ) as HTMLElement;
    for (const what of [
      /Dynamic range/,
      /κ/,
      /Mass scale/,
      /Peak width/,
      /Noise/,
      /Gain/,
      /χ²/,
      /Unexplained share/,
      /Response time/,
    ]) {
      expect(within(table).getByRole('row', { name: what })).toBeTruthy();
    }
    expect(within(table).getByRole('row', { name: /Gain/ }).textContent).toContain('980 (940–1\u202f020)');
    const floors = (await screen.findByRole('heading', { name: /the least that can be seen/ })).closest(
      'section',
    ) as HTMLElement;
    expect(within(floors).getByRole('row', { name: /nitrogen/ }).textContent).toContain('cost a factor 78');
  });

  test('over time: a quantity is chosen, drawn with words, and is a table one key away', async () => {
    stage(ONE);
    const first = await screen.findByRole('img', { name: /^Minimum detectable partial pressure from/ });
    expect(first.getAttribute('aria-label')).toMatch(/1 gap without scans/);
    fireEvent.change(screen.getByLabelText('Quantity'), { target: { value: 'massOffset' } });
    expect(await screen.findByRole('img', { name: /^Mass scale, offset from .* 0\.0\d\d\su to/ })).toBeTruthy();
    press('d');
    expect(await screen.findByRole('region', { name: 'The course as a table' })).toBeTruthy();
    expect(window.location.search).toBe('?quantity=massOffset&view=table');
  });

  test('residuals: what stands out is said, and the table is one key away', async () => {
    stage(ONE);
    const picture = await screen.findByRole('img', { name: /^Residuals mass by mass/ });
    expect(picture.getAttribute('aria-label')).toMatch(/64 \(\+19\sσ\), 48 \(\+12\sσ\)/);
    press('x');
    const table = await screen.findByRole('region', { name: 'The residuals as a table' });
    expect(within(table).getByRole('row', { name: /^30 / }).textContent).toContain('left out: a gap of one scan');
    expect(within(table).getByRole('row', { name: /^28 / }).textContent).toContain('N₂ 83');
  });

  test('the planner answers in words for the gas and the pressure that are asked', async () => {
    const { asked } = stage(`${ONE}?gas=Ar&pressure=9e-12`);
    expect(
      await screen.findByText(/^To see argon at 9\.0×10⁻¹²\sPa takes 128 sweeps: a response time of 2\smin\./),
    ).toBeTruthy();
    expect(screen.getByText(/Averaging more than 512 sweeps does not help/)).toBeTruthy();
    type(/^at, Pa/, '0');
    expect(screen.getByText('A pressure above zero, such as 2e-12.')).toBeTruthy();
    type(/^at, Pa/, '2e-11');
    fireEvent.click(screen.getByRole('button', { name: 'Work it out' }));
    await waitFor(() => expect(asked.some(({ path }) => path.includes('/plan?gas=Ar&pressure=2e-11'))).toBe(true));
    press('p');
    expect(await screen.findByRole('region', { name: 'The plan as a table' })).toBeTruthy();
  });

  test('one that has sent nothing teaches; one that is silent is not called well; one that is not there is said so', async () => {
    stage('/measurement/store-2-a');
    await says(/^Nothing can be said yet/);
    expect(screen.getByText(/With the first scan this page shows/)).toBeTruthy();
    stage('/measurement/monochromator-a');
    await says(/cannot be told: it has been silent/);
    expect(await screen.findByText(/What follows is how the analyser measured then/)).toBeTruthy();
    stage('/measurement/nowhere');
    await says(/^There is no analyser nowhere in the fleet\.$/);
  });

  test('a part that fails does not take the rest with it', async () => {
    stage(ONE, {
      failing: { '/api/v1/analysers/preparation-2-a/residuals': { status: 503, detail: 'The database is away.' } },
    });
    expect(await screen.findByRole('heading', { name: 'Calibration' })).toBeTruthy();
    expect(await screen.findByText(/The residuals did not come: The database is away/)).toBeTruthy();
  });
});

describe('calibration', () => {
  const open = async (name: string) => fireEvent.click(await screen.findByRole('button', { name }));

  test('a proposal stands beside what holds now, and is put in force with a reason', async () => {
    const { asked } = stage(ONE, { role: 'engineer' });
    const proposal = await screen.findByRole('article', { name: 'Proposed: Fragment pattern of Ar' });
    expect(proposal.textContent).toContain('40: 100, 20: 11.4, 36: 0.31');
    expect(proposal.textContent).toContain('the catalogue’s');
    await open('Put in force from…');
    type(/^In force from/, '2026-11-20 14:00');
    type(/What you looked at/, 'The three peaks stand as in the certificate.');
    fireEvent.click(within(proposal).getByRole('button', { name: 'Put in force' }));
    await waitFor(() =>
      expect(asked.find(({ path }) => path.endsWith('/calibrations/c-4/enforce'))?.body).toEqual({
        validFrom: '2026-11-20T13:00:00.000Z',
        note: 'The three peaks stand as in the certificate.',
      }),
    );
  });

  test('a conflict says who decided, a refused field says so at the field', async () => {
    const { answer } = stage(ONE, { role: 'engineer' });
    answer(
      '/api/v1/analysers/preparation-2-a/calibrations/c-4/withdraw',
      problem(409, 'This calibration was withdrawn, by J. Ravn.'),
    );
    const proposal = await screen.findByRole('article', { name: /^Proposed/ });
    fireEvent.click(within(proposal).getByRole('button', { name: 'Withdraw' }));
    type(/Why it is withdrawn/, 'The dose was not pure.');
    fireEvent.click(within(proposal).getByRole('button', { name: 'Withdraw' }));
    expect((await screen.findByText('This calibration was withdrawn, by J. Ravn.')).getAttribute('role')).toBe('alert');

    await open('Enter a value');
    answer('/api/v1/analysers/preparation-2-a/calibrations', {
      status: 422,
      body: {
        type: 'about:blank',
        title: 'Impossible',
        status: 422,
        detail: '/value: must be at most 1',
        instance: 'r-9',
        errors: [{ path: '/value', problem: 'must be at most 1' }],
      },
    });
    type(/^Value, A\/Pa/, '3');
    type(/certificate number/, 'Certificate 4471.');
    fireEvent.click(screen.getByRole('button', { name: 'Put in force' }));
    const fault = await screen.findByText('must be at most 1');
    expect(field(/^Value, A\/Pa/).getAttribute('aria-describedby')).toBe(fault.id);
    expect(field(/^Value, A\/Pa/).getAttribute('aria-invalid')).toBe('true');
    expect(field(/certificate number/).value).toBe('Certificate 4471.');
  });

  test('a certificate’s value goes out with its uncertainty as a share', async () => {
    const { asked } = stage(ONE, { role: 'engineer' });
    await open('Enter a value');
    type(/^Value, A\/Pa/, '7,1e-7');
    type(/one standard deviation/, '5');
    type(/^In force from/, '2026-11-20 14:00');
    type(/certificate number/, 'Certificate 4471.');
    fireEvent.click(screen.getByRole('button', { name: 'Put in force' }));
    await waitFor(() =>
      expect(asked.find(({ method, path }) => method === 'POST' && path.endsWith('/calibrations'))?.body).toEqual({
        kind: 'sensitivity',
        value: 7.1e-7,
        source: 'certificate',
        validFrom: '2026-11-20T13:00:00.000Z',
        note: 'Certificate 4471.',
        relativeUncertainty: 0.05,
      }),
    );
  });

  test('scans are marked by their first and last, under the caution of the server', async () => {
    const { asked } = stage(ONE, { role: 'engineer' });
    await open('Mark scans as pure gas');
    expect(screen.getByText(/may be toxic or push out oxygen/)).toBeTruthy();
    expect(screen.getByText(/Ullage never opens or closes anything/)).toBeTruthy();
    const scans = await screen.findByRole('region', { name: 'Scans' });
    const firsts = within(scans).getAllByRole('button', { name: /^first/ });
    const lasts = within(scans).getAllByRole('button', { name: /^last/ });
    fireEvent.click(firsts[20] as HTMLElement);
    fireEvent.click(lasts[10] as HTMLElement);
    expect(await screen.findByText(/11 scans of 40 lie in the period|12 scans of 40 lie in the period/)).toBeTruthy();
    fireEvent.change(screen.getByLabelText('The only gas in these scans'), { target: { value: 'Ar' } });
    type(/What was done/, 'Argon through the leak valve.');
    fireEvent.click(screen.getByRole('button', { name: 'Mark as pure gas' }));
    await waitFor(() =>
      expect(asked.find(({ method, path }) => method === 'POST' && path.endsWith('/tasks'))?.body).toMatchObject({
        kind: 'pattern',
        gas: 'Ar',
        amountFromGauge: true,
        note: 'Argon through the leak valve.',
      }),
    );
  });

  test('a background against a second analyser names it, and closing a valve has its own caution', async () => {
    const { asked } = stage(TRAP, { role: 'engineer' });
    await open('Record a background');
    expect(screen.getByText('Closing a valve between chamber and analyser')).toBeTruthy();
    fireEvent.change(await screen.findByLabelText(/How it was told/), { target: { value: 'preparation-2-a' } });
    type(/^First scan/, '2026-11-20 14:00');
    type(/^Last scan/, '2026-11-20 13:00');
    expect(screen.getByText('The last scan must come after the first.')).toBeTruthy();
    type(/^Last scan/, '2026-11-20 15:00');
    type(/What was done/, 'A quiet hour.');
    fireEvent.click(screen.getByRole('button', { name: 'Record as background' }));
    await waitFor(() =>
      expect(asked.find(({ method, path }) => method === 'POST' && path.endsWith('/tasks'))?.body).toEqual({
        kind: 'background',
        source: 'second analyser',
        other: 'preparation-2-a',
        from: '2026-11-20T13:00:00.000Z',
        to: '2026-11-20T14:00:00.000Z',
        note: 'A quiet hour.',
      }),
    );
  });

  test('the offered factor is one of two things: the person says which', async () => {
    const { asked } = stage(TRAP, { role: 'engineer' });
    await open('Look at it, and put it in force');
    fireEvent.click(screen.getByLabelText(/^The gauge: where the analyser is/));
    fireEvent.click(screen.getByRole('button', { name: 'Put in force' }));
    await waitFor(() =>
      expect(asked.find(({ method, path }) => method === 'POST' && path.endsWith('/calibrations'))?.body).toMatchObject(
        {
          kind: 'gauge-factor',
          value: 1 / 1.31,
          source: 'gauge',
        },
      ),
    );
  });

  test('a period is recomputed with the calibration of another day, and the result leads to the trend', async () => {
    const { asked } = stage(ONE, { role: 'engineer' });
    expect((await screen.findByRole('link', { name: 'Draw it beside the judged' })).getAttribute('href')).toMatch(
      /^\/chambers\/preparation-2\?analyser=preparation-2-a&from=.*&recomputation=t-3$/,
    );
    expect(screen.getByText(/Only two scans lie in this period/)).toBeTruthy();
    await open('Recompute a period');
    type(/^From \(/, '2026-11-18 14:00');
    type(/^To \(/, '2026-11-19 14:00');
    fireEvent.click(screen.getByLabelText(/each scan with that of its own time/));
    type(/^Why/, 'After the new certificate.');
    fireEvent.click(screen.getByRole('button', { name: 'Recompute' }));
    await waitFor(() =>
      expect(asked.find(({ method, path }) => method === 'POST' && path.endsWith('/tasks'))?.body).toEqual({
        kind: 'recomputation',
        from: '2026-11-18T13:00:00.000Z',
        to: '2026-11-19T13:00:00.000Z',
        note: 'After the new certificate.',
      }),
    );
  });

  test('whoever may look may ask what has changed between two scans, and reads it with its sign', async () => {
    const { asked } = stage(ONE, { role: 'viewer' });
    const row = (await screen.findByText(/^\+3\.1×10⁻/)).closest('tr');
    expect(row?.textContent).toMatch(/N₂.*give or take.*more than before/);
    expect(screen.getByText('The others have not changed by more: 1 gas.')).toBeTruthy();
    await open('Change between two scans');
    type(/^Before/, '2026-11-18 14:00');
    type(/^After/, '2026-11-18 13:00');
    expect(await screen.findByText('After must come later than before.')).toBeTruthy();
    type(/^After/, '2026-11-19 14:00');
    fireEvent.click(screen.getByRole('button', { name: 'Compare them' }));
    await waitFor(() =>
      expect(asked.find(({ method, path }) => method === 'POST' && path.endsWith('/tasks'))?.body).toEqual({
        kind: 'change',
        before: '2026-11-18T13:00:00.000Z',
        after: '2026-11-19T13:00:00.000Z',
      }),
    );
  });

  test('who may not is told who may', async () => {
    stage(ONE, { role: 'operator' });
    expect(
      await screen.findByText(/Setting a calibration, marking scans and recomputing need the role engineer/),
    ).toBeTruthy();
    expect(screen.queryByRole('button', { name: 'Enter a value' })).toBeNull();
    expect(screen.queryByRole('button', { name: /^Withdraw/ })).toBeNull();
  });
});
