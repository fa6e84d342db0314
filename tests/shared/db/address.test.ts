import { describe, expect, it } from 'vitest';
import { isSocketFolder, parseDatabaseUrl, socketPath, withDatabase } from '../../../shared/db/address.ts';

describe('the address of a database', () => {
  it('is read from a URL with host', () => {
    expect(parseDatabaseUrl('postgres://u%40x:p%2Fw@[::1]:6543/d%20b?sslmode=require')).toEqual({
      host: '::1',
      port: 6543,
      user: 'u@x',
      password: 'p/w',
      database: 'd b',
      tls: 'require',
    });
    expect(parseDatabaseUrl('postgresql://u@db.example/d')).toMatchObject({
      port: 5432,
      password: null,
      tls: 'disable',
    });
  });

  it('is read from a URL with a socket folder', () => {
    const address = parseDatabaseUrl('postgres:///ullage?host=%2Fvar%2Frun%2Fx&port=5433&user=me');
    expect(address).toMatchObject({ host: '/var/run/x', port: 5433, user: 'me', database: 'ullage' });
    expect(isSocketFolder(address.host)).toBe(true);
    expect(socketPath(address.host, address.port)).toBe('/var/run/x/.s.PGSQL.5433');
  });

  it.each([
    ['nonsense', /should look like/],
    ['mysql://u@h/d', /should look like/],
    ['postgres://u@h/', /no database/],
    ['postgres:///d?user=u', /no host/],
    ['postgres://h/d', /no user/],
    ['postgres://u@h/d?port=x', /port/],
    ['postgres://u@h/d?sslmode=prefer', /sslmode/],
  ])('is refused when it is %s', (url, reason) => {
    expect(() => parseDatabaseUrl(url)).toThrow(reason);
  });

  it('can name another database of the same server', () => {
    const url = withDatabase('postgres:///one?host=%2Fs&user=u', 'two');
    expect(parseDatabaseUrl(url)).toMatchObject({ host: '/s', user: 'u', database: 'two' });
  });
});
