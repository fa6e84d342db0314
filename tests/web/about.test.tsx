// @vitest-environment jsdom
import { cleanup, screen } from '@testing-library/react';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { lagSentence, migrationText } from '../../web/about/AboutPage.tsx';
import { clocksText, diskText } from '../../web/about/OperationSection.tsx';
import { bytes } from '../../web/notation/bytes.ts';
import { about, operation } from './fixture/about.ts';
import { stage } from './fixture/stage.tsx';

beforeEach(() => {
  localStorage.clear();
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});
const row = (name: RegExp) => screen.findByRole('row', { name });

describe('about', () => {
  test('an engineer sees versions, what waits, and what keeps it running', async () => {
    stage('/about', { role: 'engineer' });
    expect(await row(/^Catalogue of gases 2026\.11, 78 gases/)).toBeTruthy();
    expect(await row(/^Database tables step 4, 0003_handover/)).toBeTruthy();
    expect(
      await row(/^Last backup 4\sh ago: the data folder, reported by nightly copy: to the hall server/),
    ).toBeTruthy();
    expect(await row(/^Disk 23\sGB free of 64\sGB, where the database lies/)).toBeTruthy();
    expect(await row(/^Processes .*workers 6 connections/)).toBeTruthy();
    expect(screen.getByText(/the clock of that gateway is ahead/)).toBeTruthy();
  });

  test('who only looks is told who sees the rest', async () => {
    const { asked } = stage('/about', { role: 'viewer' });
    expect(await screen.findByText(/shown to engineers and admins/)).toBeTruthy();
    await row(/^Queue 0 nudges wait/);
    expect(asked.some(({ path }) => path.includes('operation'))).toBe(false);
  });

  test('no backup that was reported is said, with how to report one', async () => {
    const { answer } = stage('/about');
    answer('/api/v1/about/operation', {
      status: 200,
      body: { ...operation(Date.now()), lastBackup: null, processes: [] },
    });
    expect(await row(/^Last backup no backup has been reported/)).toBeTruthy();
    expect(screen.getByText(/POST \/api\/v1\/backups/)).toBeTruthy();
    expect(screen.getByText(/no worker is connected/)).toBeTruthy();
  });

  test('facts that did not come are not guessed', async () => {
    stage('/about', { failing: { '/api/v1/about': { status: 503, detail: 'The database does not answer.' } } });
    expect((await screen.findByRole('heading', { level: 1 })).textContent).toMatch(/not known/);
    expect(await screen.findByText(/did not come: The database does not answer/)).toBeTruthy();
    expect(screen.getByText('7f3c-19ab')).toBeTruthy();
  });
});

describe('sentences of about', () => {
  test('the head says how far behind the answers are', () => {
    const { waiting } = about(0);
    expect(lagSentence(undefined)).toMatch(/not known/);
    expect(lagSentence(waiting)).toMatch(/up to date/);
    expect(lagSentence({ ...waiting, scans: 1, oldestSeconds: 90 })).toMatch(/^1 scan waits .* oldest for 1\smin/);
  });

  test('tables of another version are named as such', () => {
    expect(migrationText({ applied: 3, known: 4, newest: '0002_alarm_life' })).toMatch(/step 3 of 4.*start it again/);
    expect(migrationText({ applied: 5, known: 4, newest: null })).toMatch(/newer than this version/);
    expect(migrationText({ applied: 0, known: 4, newest: null })).toBe('no step taken');
  });

  test('a disk and a clock that cannot be seen are not known', () => {
    expect(diskText(null)).toMatch(/not known/);
    expect(diskText({ holds: 'the data folder', freeBytes: 5e9, bytes: 1e10 })).toMatch(/database lies elsewhere/);
    expect(clocksText(null)).toMatch(/not known/);
    expect(clocksText(operation(0).arrival)).toMatch(
      /^21\ss in the middle of 11 analysers, from −3\.2\ss \(etch-3-a\) to 1\smin/,
    );
  });

  test('sizes in decimal units', () => {
    expect([0, 812, 1000, 1_420_000_000, 9_960_000, 999_999, 64e12].map(bytes)).toEqual(
      ['0 B', '812 B', '1.0 kB', '1.4 GB', '10 MB', '1.0 MB', '64 TB'].map((text) => text.replace(' ', '\u00a0')),
    );
  });
});
