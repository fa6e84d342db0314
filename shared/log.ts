/** What code may say to the log: a detail object first, then one sentence. Fastify's own logger fits it. */
export interface Log {
  info(detail: object, message: string): void;
  warn(detail: object, message: string): void;
  error(detail: object, message: string): void;
}

export const LOG_LEVELS = ['error', 'warn', 'info', 'silent'] as const;
export type LogLevel = (typeof LOG_LEVELS)[number];

const RANK: Record<LogLevel, number> = { silent: 0, error: 1, warn: 2, info: 3 };

/** Errors print as name, message, code and stack only: drivers hang queries and parameters on them, which are not for logs. */
const plain = (_key: string, value: unknown): unknown =>
  value instanceof Error
    ? { name: value.name, message: value.message, code: (value as { code?: unknown }).code, stack: value.stack }
    : value;

/** A log of one JSON line per entry on standard error; `process` names who speaks. */
export function makeLog(who: {
  process: string;
  level: LogLevel;
  now?: () => Date;
  write?: (line: string) => void;
}): Log {
  const now = who.now ?? (() => new Date());
  const write = who.write ?? ((line: string) => void process.stderr.write(line));
  const at = (level: LogLevel) => (detail: object, message: string) => {
    if (RANK[level] > RANK[who.level]) return;
    write(
      `${JSON.stringify({ at: now().toISOString(), level, process: who.process, message, ...('stack' in detail ? { error: detail } : detail) }, plain)}\n`,
    );
  };
  return { info: at('info'), warn: at('warn'), error: at('error') };
}
