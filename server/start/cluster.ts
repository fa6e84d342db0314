/**
 * One PostgreSQL of our own: made when missing, started, adopted when it outlived the process that started it, stopped.
 * It answers on a unix socket in a folder that only its user may enter, and nowhere else.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { chownSync, existsSync, mkdirSync, mkdtempSync, openSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { socketPath } from '../../shared/db/address.ts';
import type { Binaries } from './binaries.ts';
import { clusterHome, readableBinaries, type Servant } from './servant.ts';

export interface Cluster {
  /** Address of one of its databases. */
  url: (database: string) => string;
  adopted: boolean;
  pid: number;
  dataFolder: string;
  socketFolder: string;
  /** Ends sessions and the server: cleanly within `waitMs`, else so that the next start repairs from the log. */
  stop: (waitMs?: number) => Promise<void>;
}

export interface ClusterOptions {
  dataDir: string;
  binaries: Binaries;
  servant: Servant;
  /** Server settings on top of ours, `name: value`. */
  settings?: Record<string, string>;
  /** The folder of the socket, when clients already know it. */
  socketFolder?: string;
}

export const CLUSTER_USER = 'ullage';
const PORT = 5432;
/** The kernel's limit for a socket path is 107 bytes; PostgreSQL also makes a `.lock` beside it. */
const LONGEST_SOCKET_PATH = 102;
/** Repairing after a crash reads up to the log size below; slow disks take their time. */
const START_MS = 120_000;
const STOP_MS = 60_000;
const MOST_TRIES = 10;
const TRY_AGAIN_MS = 500;
/** A server that was killed a moment ago may still answer. */
const STILL_THERE_MS = 150;

const SETTINGS: Record<string, string> = {
  listen_addresses: '',
  unix_socket_permissions: '0700',
  // Server, workers and queue keep connections open, times the number of worker processes.
  max_connections: '200',
  shared_buffers: '256MB',
  max_wal_size: '2GB',
  wal_compression: 'on',
  jit: 'off',
  timezone: 'UTC',
  log_timezone: 'UTC',
  logging_collector: 'on',
  log_directory: 'log',
  // One file a weekday, written over after a week.
  log_filename: 'postgresql-%a.log',
  log_truncate_on_rotation: 'on',
};

export async function startCluster(options: ClusterOptions): Promise<Cluster> {
  const { servant } = options;
  const binaries = readableBinaries(options.binaries, servant);
  const home = clusterHome(options.dataDir, servant);
  // A newer major version cannot open this folder, so its number is part of the name.
  const dataFolder = join(home, `postgresql-${binaries.major}`);
  if (!existsSync(dataFolder)) {
    await makeCluster({ dataFolder, binaries, servant, hasty: options.settings?.fsync === 'off' });
  }

  const living = await livingServer(dataFolder);
  if (living !== null) await sleep(STILL_THERE_MS);
  if (living !== null && isAlive(living.pid)) return asCluster({ ...living, dataFolder, adopted: true });

  const socketFolder = options.socketFolder ?? makeSocketFolder(home, servant);
  const settings = { ...SETTINGS, ...options.settings, unix_socket_directories: socketFolder, port: String(PORT) };
  const args = ['-D', dataFolder, ...Object.entries(settings).flatMap(([name, value]) => ['-c', `${name}=${value}`])];
  const startLog = join(options.dataDir, 'postgresql-start.log');
  const command = servant.command(join(binaries.bin, 'postgres'), args);
  for (let tries = 1; ; tries++) {
    const output = openSync(startLog, 'w', 0o600);
    // Detached: Ctrl-C in the terminal must reach the server only after everybody has left it.
    const child = spawn(command.file, command.args, {
      ...command.options,
      detached: true,
      stdio: ['ignore', output, output],
      env: serverEnvironment(),
    });
    child.unref();
    try {
      await untilReady(child, dataFolder, startLog);
      return asCluster({ pid: child.pid as number, socketFolder, dataFolder, adopted: false });
    } catch (error) {
      // A server that was killed a moment ago leaves sessions behind that hold its memory until they notice.
      if (tries === MOST_TRIES || !/shared memory block|lock file/.test(String(error))) throw error;
      await sleep(TRY_AGAIN_MS);
    }
  }
}

/** Variables of ours would change what the server's programs do. */
function serverEnvironment(): NodeJS.ProcessEnv {
  return { PATH: process.env.PATH, LC_ALL: 'C' };
}

async function makeCluster(where: {
  dataFolder: string;
  binaries: Binaries;
  servant: Servant;
  hasty: boolean;
}): Promise<void> {
  // Made beside its place and then moved: a start that is killed half-way leaves nothing that looks finished.
  const making = `${where.dataFolder}.new`;
  rmSync(making, { recursive: true, force: true });
  const initdb = ['-D', making, '-U', CLUSTER_USER, '--auth=trust', '--encoding=UTF8', '--locale=C'];
  if (where.hasty) initdb.push('--no-sync');
  const { file, args, options } = where.servant.command(join(where.binaries.bin, 'initdb'), initdb);
  const child = spawn(file, args, { ...options, stdio: ['ignore', 'pipe', 'pipe'], env: serverEnvironment() });
  let said = '';
  const hear = (chunk: Buffer): void => {
    said += chunk.toString();
  };
  child.stdout?.on('data', hear);
  child.stderr?.on('data', hear);
  const code = await new Promise((done, fail) => child.once('error', fail).once('close', done));
  if (code !== 0) throw new Error(`PostgreSQL could not make its data folder:\n${said.trim()}`);
  renameSync(making, where.dataFolder);
}

function makeSocketFolder(home: string, servant: Servant): string {
  const beside = join(home, 'socket');
  const fits = Buffer.byteLength(socketPath(beside, PORT)) <= LONGEST_SOCKET_PATH;
  const folder = fits ? beside : mkdtempSync(join(tmpdir(), 'ullage-'));
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  if (servant.owner !== null) chownSync(folder, servant.owner.uid, servant.owner.gid);
  return folder;
}

interface PidFile {
  pid: number;
  socketFolder: string;
  ready: boolean;
}

function readPidFile(dataFolder: string): PidFile | null {
  try {
    const lines = readFileSync(join(dataFolder, 'postmaster.pid'), 'utf8').split('\n');
    return { pid: Number(lines[0]), socketFolder: lines[4] ?? '', ready: lines[7]?.trim() === 'ready' };
  } catch {
    return null;
  }
}

export function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return !hasEnded(pid);
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** One that has ended keeps its number until its parent asks; in a container the parent may be one that never does. */
function hasEnded(pid: number): boolean {
  try {
    // The state follows the name in brackets, which may hold anything.
    return /^[ZX]/.test(readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ').at(-1) ?? '');
  } catch {
    return false;
  }
}

const answers = (path: string): Promise<boolean> =>
  new Promise((done) => {
    const socket = connect({ path });
    socket.once('connect', () => socket.end(() => done(true)));
    socket.once('error', () => done(false));
  });

/**
 * The server that runs on this folder, if one does. The pid alone is no proof, because numbers come round again: it
 * must answer on its socket. One that is alive but not yet ready is waited for.
 */
async function livingServer(dataFolder: string): Promise<{ pid: number; socketFolder: string } | null> {
  for (const until = Date.now() + START_MS; Date.now() < until; await sleep(50)) {
    const found = readPidFile(dataFolder);
    if (found === null || !isAlive(found.pid)) return null;
    const listening = await answers(socketPath(found.socketFolder, PORT));
    if (listening && found.ready) return found;
    if (!listening && found.ready) return null;
  }
  return null;
}

async function untilReady(child: ChildProcess, dataFolder: string, startLog: string): Promise<void> {
  let ended = false;
  child.once('exit', () => {
    ended = true;
  });
  child.once('error', () => {
    ended = true;
  });
  for (const until = Date.now() + START_MS; Date.now() < until && !ended; await sleep(20)) {
    const found = readPidFile(dataFolder);
    if (found?.pid === child.pid && found?.ready && (await answers(socketPath(found.socketFolder, PORT)))) return;
  }
  if (!ended) child.kill('SIGQUIT');
  throw new Error(`PostgreSQL did not start on ${dataFolder}:\n${readFileSync(startLog, 'utf8').trim()}`);
}

function asCluster(server: { pid: number; socketFolder: string; dataFolder: string; adopted: boolean }): Cluster {
  const folder = encodeURIComponent(server.socketFolder);
  const gone = async (waitMs: number): Promise<boolean> => {
    for (const until = Date.now() + waitMs; Date.now() < until; await sleep(20)) {
      if (!isAlive(server.pid)) return true;
    }
    return false;
  };
  return {
    pid: server.pid,
    adopted: server.adopted,
    dataFolder: server.dataFolder,
    socketFolder: server.socketFolder,
    url: (database) => `postgres:///${database}?host=${folder}&port=${PORT}&user=${CLUSTER_USER}`,
    stop: async (waitMs = STOP_MS) => {
      if (!isAlive(server.pid)) return;
      process.kill(server.pid, 'SIGINT');
      if (!(await gone(waitMs))) {
        // The next start repairs from the write-ahead log: nothing that was committed is lost.
        process.kill(server.pid, 'SIGQUIT');
        await gone(STOP_MS);
      }
      if (!server.socketFolder.endsWith('/socket')) rmSync(server.socketFolder, { recursive: true, force: true });
    },
  };
}
