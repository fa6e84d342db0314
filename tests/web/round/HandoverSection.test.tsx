// @vitest-environment jsdom
import { fireEvent, screen, waitFor, within } from '@testing-library/react';
import { describe, expect, test } from 'vitest';
import { toldApart } from '../../../web/round/HandoverSection.tsx';
import { actsOf } from '../../../web/round/TakeOver.tsx';
import { problem } from '../fixture/answers.ts';
import { cleanStage, stage, verdict } from '../fixture/stage.tsx';

cleanStage();

const list = async (title: string) =>
  within((await screen.findByRole('heading', { level: 3, name: title })).parentElement as HTMLElement);
const posts = (asked: readonly { method: string; path: string; body: unknown }[]) =>
  asked.filter(({ method }) => method === 'POST').map(({ path, body }) => ({ path, body }));

describe('the draft on the round', () => {
  test('says what goes on, what was promised and is late, what is put away and what is not seen', async () => {
    stage('/');
    expect((await list('Work in progress')).getByText(/Spare multiplier/)).toBeTruthy();
    const promised = await list('Promised');
    expect(promised.getByText(/^was due /)).toBeTruthy();
    expect(promised.getByText(/^due /)).toBeTruthy();
    expect((await list('To be watched')).getByText('Bay 2')).toBeTruthy();
    expect((await list('Shelved')).getByText(/^until .*, J\. Ravn$/)).toBeTruthy();
    expect((await list('Not seen')).getByRole('link', { name: 'Monochromator' })).toBeTruthy();
    expect((await list('Closed since the last round')).getByText(/leak check passed/)).toBeTruthy();
    expect((await list('Open alerts')).getAllByRole('listitem').length).toBeGreaterThan(0);
  });

  test('names open alerts worst first, whichever area they are from', async () => {
    stage('/');
    const said = (await list('Open alerts')).getAllByRole('listitem').map(({ textContent }) => textContent ?? '');
    const ranks = said.map((text) => ['High', 'Medium', 'Low'].findIndex((word) => text.includes(word)));
    expect(new Set(ranks).size).toBeGreaterThan(1);
    expect(ranks).toEqual([...ranks].sort());
  });

  test('holds only what belongs to the areas on the page', async () => {
    stage('/?area=bay');
    expect((await list('Work in progress')).getByText('No work is in progress.')).toBeTruthy();
    expect((await list('To be watched')).getByText(/Argon/)).toBeTruthy();
  });

  test('a person writes a promise about a chamber; a wrong name or time is said before it is sent', async () => {
    const { asked } = stage('/');
    fireEvent.click(await screen.findByRole('button', { name: 'Add to the handover' }));
    fireEvent.change(screen.getByLabelText('What it is'), { target: { value: 'promise' } });
    const about = screen.getByLabelText(/^About/);
    fireEvent.change(about, { target: { value: 'Preparation 9' } });
    expect(screen.getByText('There is no chamber and no area called Preparation 9.')).toBeTruthy();
    fireEvent.change(about, { target: { value: 'preparation 2' } });
    const due = screen.getByLabelText(/^Due/);
    fireEvent.change(due, { target: { value: '2020-01-01 10:00' } });
    expect(screen.getByText('That time has passed.')).toBeTruthy();
    fireEvent.change(due, { target: { value: '2199-01-01 10:00' } });
    const text = screen.getByLabelText(/^In your words/);
    fireEvent.change(text, { target: { value: ' a word on V2 ' } });
    fireEvent.submit(text.closest('form') as HTMLFormElement);
    await waitFor(() =>
      expect(posts(asked)).toEqual([
        {
          path: '/api/v1/handover/entries',
          // Oslo is an hour ahead of UTC in winter.
          body: { kind: 'promise', chamber: 'preparation-2', text: 'a word on V2', dueAt: '2199-01-01T09:00:00.000Z' },
        },
      ]),
    );
  });

  test('an entry is closed with what came of it; a refusal says who was first and keeps the words', async () => {
    const { asked, answer } = stage('/');
    answer(
      '/api/v1/handover/entries/e-work/close',
      problem(409, 'This is closed already: J. Ravn was first, 2026-11-27T05:00:00.000Z.'),
    );
    fireEvent.click(await screen.findByRole('button', { name: /^Close: Spare multiplier/ }));
    const note = screen.getByLabelText('What came of it');
    fireEvent.change(note, { target: { value: 'mounted' } });
    fireEvent.submit(note.closest('form') as HTMLFormElement);
    expect(await screen.findByText(/J\. Ravn was first/)).toBeTruthy();
    expect((screen.getByLabelText('What came of it') as HTMLInputElement).value).toBe('mounted');
    expect(posts(asked)).toEqual([{ path: '/api/v1/handover/entries/e-work/close', body: { note: 'mounted' } }]);
  });

  test('a viewer reads it and is told who may write', async () => {
    stage('/', { role: 'viewer' });
    expect((await list('Work in progress')).getByText(/Spare multiplier/)).toBeTruthy();
    expect(screen.queryByRole('button', { name: /^Close/ })).toBeNull();
    expect(screen.queryByRole('button', { name: 'Add to the handover' })).toBeNull();
    expect(screen.getByText(/^You may read the handover/)).toBeTruthy();
  });

  test('when it cannot be read, the round still stands', async () => {
    stage('/', { failing: { '/api/v1/round/handover': { status: 500, detail: 'The database did not answer.' } } });
    expect(await screen.findByText(/The handover did not come/)).toBeTruthy();
    expect(screen.getByRole('article', { name: 'Preparation 2' })).toBeTruthy();
  });
});

describe('taking over', () => {
  test('both areas that one person signed at once are taken over with one signature', async () => {
    const { asked, answer } = stage('/');
    expect(
      (await screen.findByRole('link', { name: /^J\. Ravn signed Beamline 7 and Bay 2/ })).getAttribute('href'),
    ).toBe('/rounds/r-1');
    fireEvent.click(screen.getByRole('button', { name: 'Take over…' }));
    const note = screen.getByLabelText(/^Note \(what you saw/);
    fireEvent.change(note, { target: { value: 'V2 seen' } });
    answer('/api/v1/round/r-1/countersign', { status: 200, body: {} });
    fireEvent.submit(note.closest('form') as HTMLFormElement);
    await waitFor(() => expect(posts(asked).map(({ path }) => path)).toContain('/api/v1/round/r-1/countersign'));
    await waitFor(() => expect(posts(asked)).toHaveLength(2));
    for (const { body } of posts(asked)) expect(body).toEqual({ note: 'V2 seen' });
  });

  test('a person signs at once what the page shows at once', () => {
    const signed = (id: string, by: string, at: string) => ({ id, area: id, by, at });
    const acts = actsOf([
      signed('a', 'J. Ravn', '2026-11-27T21:58:00Z'),
      signed('b', 'J. Ravn', '2026-11-27T21:58:02Z'),
      signed('c', 'A. Lund', '2026-11-27T21:58:02Z'),
      signed('d', 'J. Ravn', '2026-11-27T14:00:00Z'),
    ]);
    expect(acts.map(({ rounds }) => rounds.map(({ id }) => id))).toEqual([['a', 'b'], ['c'], ['d']]);
  });

  test('names that are not unique say their id', () => {
    const named = (name: string, chamber: string) => ({ name, about: { chamber } });
    expect(toldApart([named('Sample', 's-1'), named('sample', 's-2')]).map(({ name }) => name)).toEqual([
      'Sample',
      'sample (s-2)',
    ]);
  });
});

describe('signed rounds', () => {
  test('one says who signed, what was handed over as it stood, and is countersigned there', async () => {
    const { asked, answer } = stage('/rounds/r-1');
    expect((await verdict()).textContent).toMatch(/^J\. Ravn signed Beamline 7 .* and saw 11 chambers\.$/);
    expect(screen.getByText('Not yet countersigned.')).toBeTruthy();
    expect((await list('Work in progress')).getByText(/Spare multiplier/)).toBeTruthy();
    expect(screen.queryByRole('button', { name: /^Close/ })).toBeNull();
    answer('/api/v1/round/r-1/countersign', problem(409, 'This round is countersigned already: A. Lund was first, …'));
    fireEvent.click(screen.getByRole('button', { name: /^Countersign as M\. Tveit/ }));
    expect(await screen.findByText(/A\. Lund was first/)).toBeTruthy();
    expect(posts(asked)).toEqual([{ path: '/api/v1/round/r-1/countersign', body: {} }]);
  });

  test('earlier ones are listed with who took them over', async () => {
    stage('/rounds');
    const rows = within(await screen.findByRole('table'))
      .getAllByRole('row')
      .slice(1);
    expect(rows).toHaveLength(4);
    expect(rows[0]?.textContent).toContain('not yet');
    expect(rows[3]?.textContent).toContain('A. Lund, ');
    expect(
      within(rows[0] as HTMLElement)
        .getByRole('link')
        .getAttribute('href'),
    ).toBe('/rounds/r-1');
  });

  test('without any it says how one comes to be', async () => {
    stage('/rounds', { empty: true });
    expect(await screen.findByText(/^No round has been signed yet/)).toBeTruthy();
  });
});
