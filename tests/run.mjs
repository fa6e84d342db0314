/**
 * `npm test`: everything, straight after a clone. Types and house style, then the page, then every vitest project;
 * the last line counts them all. `npm run bench` is the same door to the benchmarks.
 * Plain JavaScript: the packages may be missing when it starts.
 */
import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync, readdirSync } from 'node:fs';
import { delimiter, dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { installPackages, pageIsStale, requireNode, withLock } from '../server/start/prepare.mjs';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '..');
const args = process.argv.slice(2);

/** What the tests start that npm cannot bring: program → Debian package. */
const PROGRAMS = { 'redis-server': 'redis-server', chromium: 'chromium', scipy: 'python3-scipy' };
/** As tests/support/scipy.ts looks for it. */
const PYTHONS = ['python3', '/usr/bin/python3'];

const run = (file, rest, environment = {}) =>
  spawnSync(file, rest, { cwd: root, stdio: 'inherit', env: { ...process.env, ...environment } }).status === 0;
const runNode = (rest, environment) => run(process.execPath, rest, environment);

const isOnPath = (program) =>
  (process.env.PATH ?? '').split(delimiter).some((folder) => {
    try {
      accessSync(join(folder, program), constants.X_OK);
      return true;
    } catch {
      return false;
    }
  });

const hasScipy = () =>
  PYTHONS.some((python) => spawnSync(python, ['-c', 'import scipy'], { stdio: 'ignore' }).status === 0);
const isThere = (program) => (program === 'scipy' ? hasScipy() : isOnPath(program));

/** The programs that are missing after trying to install them. */
async function missingPrograms() {
  const missing = () => Object.keys(PROGRAMS).filter((program) => !isThere(program));
  if (missing().length > 0 && process.getuid?.() === 0 && isOnPath('apt-get')) {
    const packages = missing().map((program) => PROGRAMS[program]);
    console.log(`Installing ${packages.join(' and ')} for the tests …`);
    const quiet = { DEBIAN_FRONTEND: 'noninteractive' };
    run('apt-get', ['-qq', 'update'], quiet);
    run('apt-get', ['-qq', 'install', '--yes', '--no-install-recommends', ...packages], quiet);
  }
  if (isOnPath('redis-server') || !(await engineAnswers())) return missing();
  console.log('  redis-server is not on PATH; a Docker engine answers, so the tests take Redis from a container.');
  return missing().filter((program) => program !== 'redis-server');
}

/** Asked as the tests will ask: DOCKER_HOST, else the usual sockets. */
async function engineAnswers() {
  const { getContainerRuntimeClient } = await import('testcontainers');
  return await getContainerRuntimeClient().then(
    () => true,
    () => false,
  );
}

async function check(name, passes) {
  const started = Date.now();
  const passed = await passes();
  console.log(`${passed ? '✓' : '✗'} ${name} (${((Date.now() - started) / 1000).toFixed(1)} s)`);
  return passed;
}

function buildPage() {
  if (!pageIsStale(root)) return true;
  return runNode(['node_modules/vite/bin/vite.js', 'build', '--config', 'web/vite.config.ts', '--logLevel', 'warn']);
}

async function test(chosen) {
  const checks = [
    await check('types', () => runNode(['node_modules/typescript/bin/tsc', '-p', '.'])),
    await check('house style', () =>
      runNode(['node_modules/@biomejs/biome/bin/biome', 'check', '--config-path=tests/biome.settings.json', '.']),
    ),
    await check('the page builds', buildPage),
    await check('programs that the tests start', async () => {
      const missing = await missingPrograms();
      for (const program of missing) {
        console.log(`  MISSING: ${program}. Install the package ${PROGRAMS[program]}; its tests fail without it.`);
      }
      return missing.length === 0;
    }),
  ];
  const failed = checks.filter((passed) => !passed).length;
  const vitest = ['node_modules/vitest/vitest.mjs', 'run', '--config', 'tests/vitest.config.ts', ...chosen];
  const passed = runNode(vitest, { CHECKS_BEFORE: `${checks.length - failed},${failed}` });
  return passed && failed === 0;
}

/**
 * One after another, each in a process of its own: they measure, so nothing else may run beside them.
 * Names come first; from the first option on everything is handed to the benchmark.
 */
function bench(given) {
  const option = given.findIndex((part) => part.startsWith('--'));
  const chosen = option < 0 ? given : given.slice(0, option);
  const options = option < 0 ? [] : given.slice(option);
  const folder = join(root, 'tests/bench');
  const files = existsSync(folder)
    ? readdirSync(folder)
        .filter((name) => name.endsWith('.bench.ts'))
        .sort()
    : [];
  const wanted = files.filter((name) => chosen.length === 0 || chosen.some((part) => name.includes(part)));
  if (wanted.length === 0) console.log('There is no such benchmark.');
  return wanted
    .map((name) => {
      console.log(`\n── ${name.replace('.bench.ts', '')}`);
      return runNode(['--import', 'tsx', join('tests/bench', name), ...options]);
    })
    .every(Boolean);
}

requireNode();
try {
  await withLock(root, () => installPackages(root, { development: true }));
  const benching = args[0] === '--bench';
  process.exitCode = (benching ? bench(args.slice(1)) : await test(args)) ? 0 : 1;
} catch (error) {
  console.error(error.message);
  process.exitCode = 1;
}
