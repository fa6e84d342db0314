/** What has to be there before the product or its tests can run. Plain JavaScript: the packages may be missing. */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';

const OLDEST_NODE = [20, 19];
const PROGRESS_MS = 3_000;

export function requireNode() {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
  if (major > OLDEST_NODE[0] || (major === OLDEST_NODE[0] && minor >= OLDEST_NODE[1])) return;
  console.error(`Node.js ${OLDEST_NODE.join('.')} or newer is needed; this is ${process.versions.node}.`);
  process.exit(1);
}

/** Two starts side by side from one clone must not install or build at the same time. */
export async function withLock(root, work) {
  const name = createHash('sha256').update(root).digest('hex').slice(0, 16);
  const lock = join(tmpdir(), `ullage-prepare-${process.getuid?.() ?? 0}-${name}`);
  for (let told = false; !take(lock); told = true) {
    if (!told) console.log('Another start is preparing this folder; waiting for it …');
    await sleep(500);
  }
  try {
    return await work();
  } finally {
    rmSync(lock, { force: true });
  }
}

function take(lock) {
  try {
    writeFileSync(lock, String(process.pid), { flag: 'wx' });
    return true;
  } catch {
    // Left behind by a process that was killed?
    const owner = Number(read(lock));
    if (owner > 0 && !isAlive(owner)) rmSync(lock, { force: true });
    return false;
  }
}

function isAlive(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === 'EPERM';
  }
}

function read(file) {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return '';
  }
}

/**
 * The packages that the lock file asks for and node_modules does not have in that version. npm keeps its own record of
 * what it installed; packages for other machines and (unless `development`) tools for tests may be absent.
 */
export function missingPackages(root, { development }) {
  const wanted = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')).packages;
  const record = read(join(root, 'node_modules/.package-lock.json'));
  const installed = record === '' ? {} : JSON.parse(record).packages;
  return Object.entries(wanted)
    .filter(([path]) => path !== '')
    .filter(([path, entry]) => {
      const has = installed[path];
      if (has !== undefined && existsSync(join(root, path))) return has.version !== entry.version;
      return !(entry.optional || entry.peer || ((entry.dev || entry.devOptional) && !development));
    })
    .map(([path]) => path);
}

export async function installPackages(root, { development }) {
  const missing = missingPackages(root, { development });
  if (missing.length === 0) return;
  console.log(`Installing packages (${missing.length} are missing or outdated; once, some 20 s to a few minutes) …`);
  const started = Date.now();
  const progress = setInterval(() => {
    const seconds = Math.round((Date.now() - started) / 1000);
    console.log(`  ${seconds} s: ${countFilled(root, missing)} of ${missing.length}`);
  }, PROGRESS_MS);
  const include = development ? ['--include=dev'] : [];
  try {
    await runNpm(root, ['ci', '--no-audit', '--no-fund', '--loglevel=error', ...include]);
  } finally {
    clearInterval(progress);
  }
  const still = missingPackages(root, { development });
  if (still.length > 0) throw new Error(`npm ci did not install ${still.join(', ')}`);
}

/** npm makes all folders first and fills them one after another. */
const countFilled = (root, paths) => paths.filter((path) => existsSync(join(root, path, 'package.json'))).length;

/** The npm that started us, else the one on PATH. */
function runNpm(root, args) {
  const cli = process.env.npm_execpath;
  return cli?.endsWith('.js') ? runVisibly(root, [cli, ...args]) : runVisibly(root, args, 'npm');
}

/** Runs a program with its output shown; rejects when it does not end well. */
export function runVisibly(root, args, program = process.execPath) {
  return new Promise((done, fail) => {
    const child = spawn(program, args, { cwd: root, stdio: ['ignore', 'inherit', 'inherit'] });
    const pass = (signal) => child.kill(signal);
    process.once('SIGTERM', pass);
    process.once('SIGINT', pass);
    child.once('error', (error) => fail(new Error(`${program} could not be started: ${error.message}`)));
    child.once('exit', (code, signal) => {
      process.off('SIGTERM', pass);
      process.off('SIGINT', pass);
      if (code === 0) done();
      else fail(new Error(`${program} ${args.join(' ')} ended with ${code ?? signal}`));
    });
  });
}

/** Is the built page missing, or older than anything it is made from? */
export function pageIsStale(root) {
  const page = join(root, 'web/dist/index.html');
  if (!existsSync(page)) return true;
  const built = statSync(page).mtimeMs;
  const sources = ['web', 'shared/contract', 'shared/units.ts', 'package-lock.json'];
  return sources.some((source) => newest(join(root, source)) > built);
}

function newest(path) {
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  const entries = readdirSync(path).filter((name) => name !== 'dist' && name !== 'node_modules');
  // The folder's own time tells of files that were taken away; its own dist folder changes it too, so not at the top.
  return entries.reduce((time, name) => Math.max(time, newest(join(path, name))), 0);
}
