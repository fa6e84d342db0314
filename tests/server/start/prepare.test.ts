import { mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { missingPackages, pageIsStale, withLock } from '../../../server/start/prepare.mjs';

let root: string;
beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'ullage-prepare-test-'));
});
afterEach(() => rmSync(root, { recursive: true, force: true }));

function put(path: string, content: unknown, seconds?: number): void {
  const file = join(root, path);
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, typeof content === 'string' ? content : JSON.stringify(content));
  if (seconds !== undefined) utimesSync(file, seconds, seconds);
}

describe('missing packages', () => {
  const lock = {
    packages: {
      '': { name: 'x' },
      'node_modules/a': { version: '1.0.0' },
      'node_modules/b': { version: '2.0.0', dev: true },
      'node_modules/for-another-machine': { version: '3.0.0', optional: true },
    },
  };
  const install = (packages: Record<string, { version: string }>) => {
    put('package-lock.json', lock);
    put('node_modules/.package-lock.json', { packages });
    for (const path of Object.keys(packages)) mkdirSync(join(root, path), { recursive: true });
  };

  it('are all that are needed, straight after a clone', () => {
    put('package-lock.json', lock);
    expect(missingPackages(root, { development: false })).toEqual(['node_modules/a']);
    expect(missingPackages(root, { development: true })).toEqual(['node_modules/a', 'node_modules/b']);
  });

  it('are none when the versions are those of the lock file', () => {
    install({ 'node_modules/a': { version: '1.0.0' }, 'node_modules/b': { version: '2.0.0' } });
    expect(missingPackages(root, { development: true })).toEqual([]);
  });

  it('are those of another version, and those whose folder is gone', () => {
    install({ 'node_modules/a': { version: '0.9.0' }, 'node_modules/b': { version: '2.0.0' } });
    rmSync(join(root, 'node_modules/b'), { recursive: true });
    expect(missingPackages(root, { development: true })).toEqual(['node_modules/a', 'node_modules/b']);
  });
});

describe('the page is stale', () => {
  beforeEach(() => {
    put('package-lock.json', '{}', 100);
    put('web/App.tsx', '', 100);
    put('web/charts/line.ts', '', 100);
    put('shared/contract/words.ts', '', 100);
    put('shared/units.ts', '', 100);
  });

  it('when it was never built', () => expect(pageIsStale(root)).toBe(true));

  it('not when it is newer than all that it is made from', () => {
    put('web/dist/index.html', '', 200);
    put('shared/other.ts', '', 300);
    expect(pageIsStale(root)).toBe(false);
  });

  it.each(['web/charts/line.ts', 'web/App.tsx', 'shared/contract/words.ts', 'shared/units.ts', 'package-lock.json'])(
    'when %s is newer',
    (source) => {
      put('web/dist/index.html', '', 200);
      put(source, '{}', 300);
      expect(pageIsStale(root)).toBe(true);
    },
  );
});

describe('the lock around preparing', () => {
  it('lets one at a time in, also after a failure', async () => {
    let inside = 0;
    let most = 0;
    const work = async () => {
      inside += 1;
      most = Math.max(most, inside);
      await sleep(20);
      inside -= 1;
      throw new Error('failed');
    };
    const results = await Promise.allSettled([withLock(root, work), withLock(root, work), withLock(root, work)]);
    expect(results.map(({ status }) => status)).toEqual(['rejected', 'rejected', 'rejected']);
    expect(most).toBe(1);
  });
});
