import { describe, expect, it } from 'vitest';
import { makeLog } from '../../shared/log.ts';

const lines: string[] = [];
const logAt = (level: 'error' | 'warn' | 'info' | 'silent') => {
  lines.length = 0;
  return makeLog({ process: 'test', level, now: () => new Date(0), write: (line) => void lines.push(line) });
};

describe('the log', () => {
  it('writes one JSON line per entry, with who and when', () => {
    logAt('info').info({ scans: 3 }, 'Three came');
    expect(lines).toHaveLength(1);
    expect(lines[0]?.endsWith('}\n')).toBe(true);
    expect(JSON.parse(lines[0] ?? '')).toEqual({
      at: '1970-01-01T00:00:00.000Z',
      level: 'info',
      process: 'test',
      message: 'Three came',
      scans: 3,
    });
  });

  it.each([
    ['info', 3],
    ['warn', 2],
    ['error', 1],
    ['silent', 0],
  ] as const)('at level %s keeps %i of three', (level, kept) => {
    const log = logAt(level);
    log.info({}, 'a');
    log.warn({}, 'b');
    log.error({}, 'c');
    expect(lines).toHaveLength(kept);
  });

  it('prints what an error says and not what a driver hung on it', () => {
    const error = Object.assign(new Error('no'), { code: '23505', parameters: ['secret'], query: 'insert secret' });
    const log = logAt('error');
    log.error({ error }, 'Failed');
    log.error(error, 'Failed');
    for (const line of lines) {
      expect(JSON.parse(line).error).toMatchObject({ name: 'Error', message: 'no', code: '23505' });
      expect(line).not.toContain('secret');
    }
  });
});
