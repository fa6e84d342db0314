import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readSettings, SettingsError } from '../../shared/settings.ts';

const faultsOf = (environment: Record<string, string>): readonly string[] => {
  try {
    readSettings(environment);
  } catch (error) {
    if (error instanceof SettingsError) return error.faults;
    throw error;
  }
  return [];
};

describe('settings', () => {
  it('have a value for everything when the environment is empty', () => {
    expect(readSettings({})).toEqual({
      host: '127.0.0.1',
      port: 4170,
      databaseUrl: null,
      redisUrl: null,
      dataDir: resolve('.ullage'),
      adminToken: null,
      site: 'Ullage',
      workers: 1,
      logLevel: 'info',
    });
  });

  it('take what is set, and an empty variable as not set', () => {
    const token = 'x'.repeat(32);
    const set = {
      HOST: '::1',
      PORT: '8080',
      DATABASE_URL: 'postgres://u:p@db.example/ullage',
      REDIS_URL: 'rediss://r.example:6380/1',
      ULLAGE_DATA_DIR: '/data',
      ULLAGE_ADMIN_TOKEN: token,
      ULLAGE_SITE: 'South ring',
      ULLAGE_WORKERS: '3',
      ULLAGE_LOG: 'warn',
    };
    expect(readSettings(set)).toMatchObject({
      host: '::1',
      port: 8080,
      databaseUrl: set.DATABASE_URL,
      redisUrl: set.REDIS_URL,
      dataDir: '/data',
      adminToken: token,
      site: 'South ring',
      workers: 3,
      logLevel: 'warn',
    });
    expect(readSettings({ PORT: '', DATABASE_URL: ' ', ULLAGE_ADMIN_TOKEN: '' })).toEqual(readSettings({}));
  });

  it('are refused with every fault by name, all at once', () => {
    const faults = faultsOf({
      HOST: 'not a host',
      PORT: '70000',
      DATABASE_URL: 'mysql://u@h/d',
      REDIS_URL: 'http://h',
      ULLAGE_ADMIN_TOKEN: 'short',
      ULLAGE_WORKERS: '1.5',
      ULLAGE_LOG: 'loud',
    });
    expect(faults.map((fault) => fault.split(':')[0])).toEqual([
      'HOST',
      'PORT',
      'DATABASE_URL',
      'REDIS_URL',
      'ULLAGE_ADMIN_TOKEN',
      'ULLAGE_WORKERS',
      'ULLAGE_LOG',
    ]);
  });

  it.each(['0', '-1', '4170x', '1e3', '65536'])('refuse PORT %s', (port) => {
    expect(faultsOf({ PORT: port })).toHaveLength(1);
  });

  it('refuse an admin token that cannot travel in a header', () => {
    expect(faultsOf({ ULLAGE_ADMIN_TOKEN: `${'x'.repeat(32)} y` })[0]).toMatch(/ULLAGE_ADMIN_TOKEN.*ASCII/);
    expect(faultsOf({ ULLAGE_ADMIN_TOKEN: 'x'.repeat(31) })[0]).toMatch(/31 characters.*32/);
  });

  it('never repeat a secret in a fault', () => {
    const faults = faultsOf({
      DATABASE_URL: 'mysql://u:hunter2@h/d',
      REDIS_URL: 'amqp://:hunter2@h',
      ULLAGE_ADMIN_TOKEN: 'hunter2',
    });
    expect(faults).toHaveLength(3);
    expect(faults.join()).not.toContain('hunter2');
  });
});
