import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { isAlive } from '../../../server/start/cluster.ts';
import { supervise } from '../../../server/start/supervise.ts';
import { quiet } from '../../support/services.ts';

const root = join(import.meta.dirname, '../../..');
const scratch = mkdtempSync(join(tmpdir(), 'ullage-supervise-test-'));
afterAll(() => rmSync(scratch, { recursive: true, force: true }));

/** A program that writes its number into a file, then does what the script says. */
function program(name: string, script: string): { program: string; pids: () => number[] } {
  const file = join(scratch, `${name}.mjs`);
  const list = join(scratch, `${name}.pids`);
  writeFileSync(list, '');
  writeFileSync(
    file,
    `import { appendFileSync } from 'node:fs';\nappendFileSync(${JSON.stringify(list)}, process.pid + '\\n');\n${script}`,
  );
  return { program: file, pids: () => readFileSync(list, 'utf8').split('\n').filter(Boolean).map(Number) };
}

const STAY = 'setInterval(() => {}, 1000);';
const options = { root, log: quiet, now: Date.now };

it('starts a child again when it dies, and leaves one alone that said so', async () => {
  const staying = program('staying', STAY);
  const final = program('final', 'process.exit(78);');
  const supervisor = supervise(
    [
      { name: 'staying', program: staying.program, environment: process.env },
      { name: 'final', program: final.program, environment: process.env, finalStatuses: [78] },
    ],
    options,
  );
  await expect.poll(() => staying.pids().length, { timeout: 60_000 }).toBe(1);
  process.kill(staying.pids()[0]!, 'SIGKILL');
  await expect.poll(() => staying.pids().length, { timeout: 60_000 }).toBe(2);
  expect(supervisor.deaths('staying')).toBe(1);
  await supervisor.stop(5_000);
  expect(final.pids()).toHaveLength(1);
  expect(staying.pids().filter(isAlive)).toEqual([]);
});

it('forces a child that does not end when asked', async () => {
  const deaf = program('deaf', `process.on('SIGTERM', () => {});\n${STAY}`);
  const supervisor = supervise([{ name: 'deaf', program: deaf.program, environment: process.env }], options);
  await expect.poll(() => deaf.pids().length, { timeout: 60_000 }).toBe(1);
  await supervisor.stop(200);
  expect(deaf.pids().filter(isAlive)).toEqual([]);
});

it('waits longer before each try while a child keeps dying', async () => {
  const pauses: number[] = [];
  const log = {
    ...quiet,
    error: (detail: object) => void pauses.push((detail as { restartInMs: number }).restartInMs),
  };
  const failing = program('failing', 'process.exit(1);');
  const supervisor = supervise([{ name: 'failing', program: failing.program, environment: process.env }], {
    ...options,
    log,
  });
  await expect.poll(() => pauses.length, { timeout: 60_000 }).toBe(3);
  await supervisor.stop(100);
  expect(pauses).toEqual([500, 1_000, 2_000]);
});

it('its children end when it is killed', async () => {
  const orphan = program('orphan', STAY);
  const script = `
    import { supervise } from './server/start/supervise.ts';
    const log = { info() {}, warn() {}, error() {} };
    supervise([{ name: 'orphan', program: ${JSON.stringify(orphan.program)}, environment: process.env }],
      { root: '.', log, now: Date.now });`;
  const parent = spawn(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script], { cwd: root });
  await expect.poll(() => orphan.pids().length, { timeout: 60_000 }).toBe(1);
  parent.kill('SIGKILL');
  await expect.poll(() => orphan.pids().filter(isAlive), { timeout: 60_000 }).toEqual([]);
});
