// @vitest-environment jsdom
/** Every page goes through the same states: an error says what is unknown, why, under which request, and tries again. */
import { act, cleanup, fireEvent, render, screen, within } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { Answered } from '../../../web/frame/PageState.tsx';
import { stage } from '../fixture/stage.tsx';

/** Each page with the question that it lives on. */
const PAGES = [
  ['/', '/api/v1/round'],
  ['/alerts', '/api/v1/alerts'],
  ['/alerts/a-oil', '/api/v1/alerts/a-oil'],
  ['/chambers/store', '/api/v1/chambers/store'],
  ['/rounds/r-1', '/api/v1/rounds/r-1'],
  ['/rounds', '/api/v1/rounds'],
  ['/performance', '/api/v1/performance'],
  ['/rationalisation', '/api/v1/rationalisation'],
  ['/measurement', '/api/v1/measurement'],
  ['/fleet', '/api/v1/fleet'],
  ['/about', '/api/v1/about'],
] as const;

beforeEach(() => {
  localStorage.clear();
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

/** The part that says that this question failed. */
const failed = async (): Promise<HTMLElement> => {
  const texts = await screen.findAllByText(/did not come: /);
  return texts[0]?.closest('.failed') as HTMLElement;
};

describe('a page that loads', () => {
  const loading = (page?: boolean) =>
    render(
      <Answered question={{ data: undefined, isError: false } as never} what="The chamber" page={page ?? false}>
        {() => null}
      </Answered>,
    );

  test('is named once the skeleton is shown, and a quick answer flashes neither', () => {
    vi.useFakeTimers();
    const { container } = loading(true);
    expect(container.querySelectorAll('h1, .sk:not(.early)')).toHaveLength(0);
    act(() => void vi.advanceTimersByTime(200));
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe('The chamber');
    expect(container.querySelectorAll('.sk.early')).toHaveLength(0);
    vi.useRealTimers();
  });

  test('a part of a page has no heading of its own', () => {
    vi.useFakeTimers();
    loading();
    act(() => void vi.advanceTimersByTime(200));
    expect(screen.queryByRole('heading')).toBeNull();
    vi.useRealTimers();
  });
});

describe('states of pages', () => {
  test.each(PAGES)('%s without an answer', async (path, question) => {
    const detail = 'Something is broken inside.';
    const { asked } = stage(path, { failing: { [question]: { status: 500, detail } } });
    const part = within(await failed());
    expect(part.getByText(/did not come: Something is broken inside\./)).toBeTruthy();
    expect(part.getByText(/Nothing is known here until/)).toBeTruthy();
    expect(part.getByText('7f3c-19ab')).toBeTruthy();
    const before = asked.length;
    fireEvent.click(part.getByRole('button', { name: 'Try again' }));
    expect(asked.length).toBeGreaterThan(before);
  });

  test.each(PAGES)('%s without permission', async (path, question) => {
    const detail = 'This needs the role engineer or above. mt has the role viewer.';
    stage(path, { role: 'viewer', failing: { [question]: { status: 403, detail } } });
    const says = (await screen.findAllByText(/not yours to see/))[0]?.closest('.failed') as HTMLElement;
    expect(within(says).getByText(/This needs the role engineer/)).toBeTruthy();
    expect(within(says).getByText(/Your role is viewer: it looks\. An admin can give you another/)).toBeTruthy();
    expect(within(says).queryByRole('button'), 'asking again would change nothing').toBeNull();
  });
});
