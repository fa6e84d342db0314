/**
 * The environment, read once at start. A fault is named with the variable and what it should be, and all faults are
 * named together: nobody should learn of the second only after the first is mended.
 */
import { isIP } from 'node:net';
import { resolve } from 'node:path';
import { parseDatabaseUrl } from './db/address.ts';
import { LOG_LEVELS, type LogLevel } from './log.ts';

export interface Settings {
  host: string;
  port: number;
  /** Null: the start brings up its own PostgreSQL under `dataDir`. */
  databaseUrl: string | null;
  /** Null: nudges travel through PostgreSQL. */
  redisUrl: string | null;
  /** Absolute. */
  dataDir: string;
  adminToken: string | null;
  /** Name of the site, as pages and tickets print it. */
  site: string;
  /** Worker processes. */
  workers: number;
  logLevel: LogLevel;
}

export class SettingsError extends Error {
  readonly faults: readonly string[];
  constructor(faults: readonly string[]) {
    super(`The settings do not allow a start:\n${faults.map((fault) => `  ${fault}`).join('\n')}`);
    this.name = 'SettingsError';
    this.faults = faults;
  }
}

/** 256 bits in base64url take 43 characters; 32 is the least that the interface promises to refuse below. */
const SHORTEST_ADMIN_TOKEN = 32;
/** More processes than this on one machine only wait for each other. */
const MOST_WORKERS = 64;

type Environment = Record<string, string | undefined>;

/** @throws {SettingsError} naming every fault */
export function readSettings(environment: Environment): Settings {
  const faults: string[] = [];
  // An empty variable means "not set": compose files and shells produce it for a missing value.
  const text = (name: string): string | null => environment[name]?.trim() || null;
  const settings: Settings = {
    host: host(text('HOST') ?? '127.0.0.1', faults),
    port: whole({ name: 'PORT', text: text('PORT') ?? '4170', least: 1, most: 65535 }, faults),
    databaseUrl: address({ name: 'DATABASE_URL', text: text('DATABASE_URL'), check: parseDatabaseUrl }, faults),
    redisUrl: address({ name: 'REDIS_URL', text: text('REDIS_URL'), check: checkRedisUrl }, faults),
    dataDir: resolve(text('ULLAGE_DATA_DIR') ?? '.ullage'),
    adminToken: adminToken(environment.ULLAGE_ADMIN_TOKEN || null, faults),
    site: text('ULLAGE_SITE') ?? 'Ullage',
    workers: whole(
      { name: 'ULLAGE_WORKERS', text: text('ULLAGE_WORKERS') ?? '1', least: 1, most: MOST_WORKERS },
      faults,
    ),
    logLevel: logLevel(text('ULLAGE_LOG') ?? 'info', faults),
  };
  if (faults.length > 0) throw new SettingsError(faults);
  return settings;
}

function host(value: string, faults: string[]): string {
  const name = /^[a-z0-9]([a-z0-9.-]*[a-z0-9])?$/i;
  if (isIP(value) === 0 && !name.test(value)) faults.push(`HOST: "${value}" is neither an IP address nor a host name`);
  return value;
}

function whole(from: { name: string; text: string; least: number; most: number }, faults: string[]): number {
  const value = /^\d+$/.test(from.text) ? Number(from.text) : Number.NaN;
  if (!(value >= from.least && value <= from.most)) {
    faults.push(`${from.name}: "${from.text}" is not a whole number from ${from.least} to ${from.most}`);
  }
  return value;
}

/** The value itself is not repeated in the fault: it may hold a password. */
function address(
  from: { name: string; text: string | null; check: (url: string) => unknown },
  faults: string[],
): string | null {
  if (from.text === null) return null;
  try {
    from.check(from.text);
  } catch (error) {
    faults.push(`${from.name}: ${(error as Error).message}`);
  }
  return from.text;
}

function checkRedisUrl(url: string): void {
  const form = 'should look like redis://[user:password@]host[:port][/number] (rediss:// for TLS)';
  if (!URL.canParse(url)) throw new Error(form);
  const { protocol, hostname } = new URL(url);
  if ((protocol !== 'redis:' && protocol !== 'rediss:') || hostname === '') throw new Error(form);
}

function adminToken(value: string | null, faults: string[]): string | null {
  if (value === null) return null;
  if (value.length < SHORTEST_ADMIN_TOKEN) {
    faults.push(`ULLAGE_ADMIN_TOKEN: has ${value.length} characters, needs at least ${SHORTEST_ADMIN_TOKEN}`);
  } else if (!/^[\x21-\x7e]+$/.test(value)) {
    faults.push('ULLAGE_ADMIN_TOKEN: may hold only printable ASCII without spaces, because it travels in a header');
  }
  return value;
}

function logLevel(value: string, faults: string[]): LogLevel {
  const known = LOG_LEVELS.find((level) => level === value);
  if (known === undefined) faults.push(`ULLAGE_LOG: "${value}" is not one of ${LOG_LEVELS.join(', ')}`);
  return known ?? 'info';
}
