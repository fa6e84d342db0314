// @vitest-environment jsdom
import { act, cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import type { Round } from '../../../shared/contract/round.ts';
import { forgetUnderway } from '../../../web/alerts/underway.ts';
import { problem } from '../fixture/answers.ts';
import { round } from '../fixture/lines.ts';
import { stage } from '../fixture/stage.tsx';

const NOW = Date.now();
const lines = round(NOW).areas.flatMap(({ chambers }) => chambers);
const line = lines.find(({ worst }) => worst?.state === 'unacknowledged') as (typeof lines)[number];
const alert = line.worst?.id as string;
const article = () => screen.findByRole('article', { name: line.name });

/** The round after a colleague has acknowledged the alert; or with the chamber gone from the page. */
const acknowledgedElsewhere = (): Round => {
  const told = round(NOW);
  const areas = told.areas.map((area) => ({ ...area, chambers: area.chambers.filter(({ id }) => id !== line.id) }));
  return { ...told, areas };
};

beforeEach(() => {
  localStorage.clear();
});
afterEach(() => {
  forgetUnderway(alert, 'acknowledge');
  cleanup();
  vi.unstubAllGlobals();
});

const write = async (note: string) => {
  fireEvent.click(within(await article()).getByRole('button', { name: /Acknowledge/ }));
  fireEvent.change(await screen.findByLabelText(/^Note \(what/), { target: { value: note } });
};

describe('a move on its way', () => {
  test('is drawn as it will be, with a word that it is not yet; refused, it goes back and says who was first', async () => {
    let answered: () => void = () => {};
    const { answer } = stage('/', { nowMs: NOW });
    await write('I look');
    const plain = fetch;
    vi.stubGlobal('fetch', async (target: string, init?: RequestInit) => {
      if (String(target).endsWith('/acknowledge')) await new Promise<void>((done) => (answered = done));
      return plain(target, init);
    });
    answer(`/api/v1/alerts/${alert}/acknowledge`, problem(409, 'This alert cannot be moved: J. Ravn was first.'));
    fireEvent.submit(screen.getByLabelText(/^Note \(what/).closest('form') as HTMLFormElement);
    expect(await within(await article()).findByText('acknowledging…')).toBeTruthy();
    act(() => answered());
    expect(await screen.findByText('Not yours: J. Ravn was first.')).toBeTruthy();
    const back = within(await article());
    expect(back.queryByText('acknowledging…')).toBeNull();
    expect(back.getByText('unacknowledged')).toBeTruthy();
    expect((screen.getByLabelText(/^Note \(what/) as HTMLInputElement).value).toBe('I look');
  });

  test('words that lose their form to a colleague’s move are kept above the page, with who was first', async () => {
    const { answer, stream } = stage('/', { nowMs: NOW });
    await write('valve V2 is closed');
    answer('/api/v1/round', { status: 200, body: acknowledgedElsewhere() });
    act(() => stream.say('alert', { chamber: line.id, id: alert }));
    expect(await screen.findByText(/Your words are kept here: “valve V2 is closed”/)).toBeTruthy();
    fireEvent.click(screen.getByRole('button', { name: 'Let them go' }));
    await waitFor(() => expect(screen.queryByText(/Your words are kept here/)).toBeNull());
  });

  test('words that the person lets go are not kept', async () => {
    stage('/', { nowMs: NOW });
    await write('never mind');
    fireEvent.click(screen.getByRole('button', { name: /Cancel/ }));
    await waitFor(() => expect(screen.queryByLabelText(/^Note \(what/)).toBeNull());
    expect(screen.queryByText(/Your words are kept here/)).toBeNull();
  });
});
