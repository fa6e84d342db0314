/**
 * The first thing that runs, straight after a clone: plain JavaScript without packages. It installs the packages and
 * builds the page where that is needed, then hands over to main.ts (or to the program named by `--run`).
 */
import { spawn } from 'node:child_process';
import { dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { installPackages, pageIsStale, requireNode, runVisibly, withLock } from './prepare.mjs';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const args = process.argv.slice(2);
const run = args.indexOf('--run');
const program = run < 0 ? 'server/start/main.ts' : args[run + 1];
const passed = run < 0 ? args : args.toSpliced(run, 2);

requireNode();
try {
  await withLock(root, async () => {
    await installPackages(root, { development: false });
    if (run >= 0 || !pageIsStale(root)) return;
    console.log('Building the page …');
    await runVisibly(root, [
      'node_modules/vite/bin/vite.js',
      'build',
      '--config',
      'web/vite.config.ts',
      '--logLevel',
      'warn',
    ]);
  });
} catch (error) {
  // What failed has said why; a stack of ours adds nothing.
  console.error(error.message);
  process.exit(1);
}

const environment = { ...process.env };
// Relative to where the user stands, not to where the product lies.
if (process.env.ULLAGE_DATA_DIR) environment.ULLAGE_DATA_DIR = resolve(process.env.ULLAGE_DATA_DIR);
const child = spawn(process.execPath, ['--import', 'tsx', program, ...passed], {
  cwd: root,
  env: environment,
  // The channel carries no messages: when this process is killed it closes, and the child ends too.
  stdio: ['inherit', 'inherit', 'inherit', 'ipc'],
});
for (const signal of ['SIGTERM', 'SIGINT', 'SIGHUP']) process.on(signal, () => child.kill(signal));
// When npm is killed, its shell and we are told nothing; that we have another parent then is the only sign.
if (process.env.npm_lifecycle_event) {
  const parent = process.ppid;
  setInterval(() => process.ppid === parent || child.kill('SIGTERM'), 1_000).unref();
}
child.once('exit', (code, signal) => process.exit(code ?? (signal === 'SIGKILL' ? 137 : 1)));
