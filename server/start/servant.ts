/**
 * PostgreSQL refuses to run as root, and containers and small machines often have nobody else. As root it therefore
 * runs in a user namespace that shows it as an ordinary user: files keep their owner and no account is made. Where the
 * kernel forbids namespaces it runs as `nobody`, which needs programs and data in places that `nobody` may enter.
 */
import { execFileSync, type SpawnOptions, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  chownSync,
  cpSync,
  existsSync,
  mkdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import type { Binaries } from './binaries.ts';

export interface Servant {
  kind: 'oneself' | 'namespace' | 'nobody';
  /** What to start so that `program` runs as the servant. */
  command: (program: string, args: readonly string[]) => { file: string; args: string[]; options: SpawnOptions };
  /** Who must own the data; null: whoever makes the folder. */
  owner: { uid: number; gid: number } | null;
}

interface Account {
  name: string;
  uid: number;
  gid: number;
}

/** @param namespaces false: behave as on a kernel without user namespaces */
export function chooseServant(options: { namespaces?: boolean } = {}): Servant {
  if (process.getuid?.() !== 0) {
    return {
      kind: 'oneself',
      command: (program, args) => ({ file: program, args: [...args], options: {} }),
      owner: null,
    };
  }
  const nobody = unprivilegedAccount();
  const mapping = ['--user', `--map-user=${nobody.uid}`, `--map-group=${nobody.gid}`];
  if (options.namespaces !== false && spawnSync('unshare', [...mapping, 'true']).status === 0) {
    return {
      kind: 'namespace',
      command: (program, args) => ({ file: 'unshare', args: [...mapping, '--', program, ...args], options: {} }),
      owner: null,
    };
  }
  const owner = { uid: nobody.uid, gid: nobody.gid };
  return {
    kind: 'nobody',
    // A working folder that the servant cannot enter is an error for PostgreSQL.
    command: (program, args) => ({ file: program, args: [...args], options: { ...owner, cwd: '/' } }),
    owner,
  };
}

/** The server looks its user up by number, so the number must belong to an account that exists. */
function unprivilegedAccount(): Account {
  const accounts = readFileSync('/etc/passwd', 'utf8')
    .split('\n')
    .map((line) => line.split(':'))
    .map((fields) => ({ name: fields[0] ?? '', uid: Number(fields[2]), gid: Number(fields[3]) }))
    .filter(({ uid, gid }) => uid > 0 && gid > 0);
  const account = accounts.find(({ name }) => name === 'nobody') ?? accounts[0];
  if (account === undefined) throw new Error('PostgreSQL does not run as root, and /etc/passwd names no other account');
  return account;
}

const PRIVATE_HOME = '/var/lib/ullage';

/** May everybody enter every folder on the way to `path`? */
function openToAll(path: string): boolean {
  for (let folder = resolve(path); ; folder = dirname(folder)) {
    if (existsSync(folder) && (statSync(folder).mode & 0o001) === 0) return false;
    if (folder === dirname(folder)) return true;
  }
}

/** The same programs where the servant can read them: as they are, or a copy. */
export function readableBinaries(binaries: Binaries, servant: Servant): Binaries {
  if (servant.owner === null || openToAll(binaries.bin)) return binaries;
  const home = join(PRIVATE_HOME, `postgresql-${binaries.version}`);
  if (!existsSync(home)) {
    const making = `${home}.${process.pid}`;
    mkdirSync(PRIVATE_HOME, { recursive: true, mode: 0o755 });
    cpSync(binaries.home, making, { recursive: true, verbatimSymlinks: true });
    execFileSync('chmod', ['-R', 'a+rX', making]);
    try {
      renameSync(making, home);
    } catch (error) {
      // Another start beside this one was quicker.
      rmSync(making, { recursive: true, force: true });
      if (!existsSync(home)) throw error;
    }
  }
  return { ...binaries, bin: join(home, 'bin'), home };
}

/**
 * The folder in which the servant keeps the cluster: inside the data folder, or, where the servant cannot enter that,
 * a place of its own which a file in the data folder names.
 */
export function clusterHome(dataDir: string, servant: Servant): string {
  mkdirSync(dataDir, { recursive: true, mode: 0o700 });
  if (servant.owner === null) return dataDir;
  const own = join(dataDir, 'cluster');
  if (openToAll(dirname(dataDir))) {
    // Only this folder has to let the servant pass; what lies in it stays closed.
    execFileSync('chmod', ['711', dataDir]);
    return ownedFolder(own, servant.owner);
  }
  const place = join(PRIVATE_HOME, createHash('sha256').update(resolve(dataDir)).digest('hex').slice(0, 16));
  mkdirSync(PRIVATE_HOME, { recursive: true, mode: 0o755 });
  writeFileSync(join(dataDir, CLUSTER_PLACE), `${place}\n`);
  return ownedFolder(place, servant.owner);
}

/** Names the folder of the cluster when that lies outside the data folder. */
export const CLUSTER_PLACE = 'cluster-place';

function ownedFolder(folder: string, owner: { uid: number; gid: number }): string {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  chownSync(folder, owner.uid, owner.gid);
  return folder;
}
