// @vitest-environment jsdom
import { act, cleanup, screen, waitFor } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { shortestPeriod } from '../../../web/frame/Liveness.tsx';
import { round } from '../fixture/lines.ts';
import { stage } from '../fixture/stage.tsx';

const NOW = Date.UTC(2026, 10, 27, 5);

beforeEach(() => {
  localStorage.clear();
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

describe('how fresh the page is', () => {
  test('live, with the age of the newest scan', async () => {
    stage('/about', { nowMs: NOW });
    await waitFor(() => expect(document.querySelector('.liveness')?.textContent).toMatch(/^live, \d+\s(s|min)/));
    expect(document.querySelector('.bar')).toBeNull();
  });

  test('when nothing comes although the line is up, it says so, and since when', async () => {
    const { answer } = stage('/about', { nowMs: NOW });
    answer('/api/v1/round', { status: 200, body: round(NOW - 3_600_000) });
    const bar = await screen.findByText(/No scan has come for 1\sh.*, although the server answers\./);
    expect(bar.closest('.bar')?.textContent).toMatch(/What you see is from \d\d:\d\d:\d\d and is getting older/);
    expect(document.querySelector('.liveness')?.textContent).toMatch(/^stale, 1\sh.* old$/);
    await waitFor(() =>
      expect(screen.getByText('No scan comes any more. What you see is getting older.')).toBeTruthy(),
    );
  });

  test('a round that did not come is not a fleet without scans', async () => {
    stage('/about', { nowMs: NOW, failing: { '/api/v1/round': { status: 500, detail: 'Broken.' } } });
    await waitFor(() => expect(document.querySelector('.liveness')?.textContent).toBe('live, age not known'));
  });

  test('cut off takes the word; back, it says how many chambers changed meanwhile', async () => {
    const { stream, answer } = stage('/about', { nowMs: NOW });
    await waitFor(() => expect(document.querySelector('.liveness')?.textContent).toMatch(/^live/));
    act(() => stream.drop());
    await screen.findByText(/Cut off for/);
    expect(document.querySelector('.liveness')?.textContent).toMatch(/^cut off, .* old$/);
    const told = round(NOW);
    const areas = told.areas.map((area) => ({
      ...area,
      chambers: area.chambers.map((line) => (line.id === 'store' ? { ...line, health: 'blind' as const } : line)),
    }));
    answer('/api/v1/round', { status: 200, body: { ...told, areas } });
    expect(await screen.findByText(/^1 chamber says something else than before you were cut off/)).toBeTruthy();
  });

  test('ages count without being read out', async () => {
    const { stream } = stage('/about', { nowMs: NOW });
    await waitFor(() => expect(document.querySelector('.liveness')?.textContent).toMatch(/^live/));
    act(() => stream.drop());
    const bar = (await screen.findByText(/Cut off for/)).closest('.bar') as HTMLElement;
    for (const part of [bar, document.querySelector('.liveness') as HTMLElement])
      expect(part.closest('[role="status"], [role="alert"], [aria-live]')).toBeNull();
  });

  test('a period that no chamber has is not known', () => {
    expect(shortestPeriod(undefined)).toBeNull();
    expect(shortestPeriod(round(NOW))).toBeGreaterThan(0);
  });
});
