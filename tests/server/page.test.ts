import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openWorld, type World } from './world.ts';

const root = mkdtempSync(join(tmpdir(), 'ullage-page-'));
mkdirSync(join(root, 'assets'));
writeFileSync(join(root, 'index.html'), '<!doctype html><title>the page</title>');
writeFileSync(join(root, 'assets', 'main-abc123.js'), 'export {};');

let world: World;
beforeAll(async () => {
  world = await openWorld({ webRoot: root });
});
afterAll(async () => {
  await world.close();
  rmSync(root, { recursive: true });
});
const get = (url: string) => world.ask('GET', url, { token: null });

test.each(['/', '/round', '/chambers/n-prep-1?from=x', '/set-up?key=1', '/fleet'])('%s is the page', async (url) => {
  const { status, headers, body } = await get(url);
  expect(status).toBe(200);
  expect(headers['content-type']).toBe('text/html; charset=utf-8');
  expect(headers['cache-control']).toBe('no-cache');
  expect(headers['content-security-policy']).toContain("script-src 'self'");
  expect(body).toContain('the page');
});

test('a new build is seen without a restart', async () => {
  writeFileSync(join(root, 'assets', 'main-def456.js'), 'export {};');
  expect((await get('/assets/main-def456.js')).status).toBe(200);
});

test('files named by their content are kept for ever', async () => {
  const { status, headers } = await get('/assets/main-abc123.js');
  expect(status).toBe(200);
  expect(headers['content-type']).toMatch(/javascript/);
  expect(headers['cache-control']).toContain('immutable');
});

test.each([
  '/assets/gone.js',
  '/api/v1/nothing',
  '/api',
  '/health/none',
  '/assets/..%2f..%2fetc%2fpasswd',
  '/favicon.ico',
])('%s is not the page', async (url) => {
  const { status, headers } = await get(url);
  expect(status).toBe(404);
  expect(headers['content-type']).toMatch(/problem\+json/);
});
