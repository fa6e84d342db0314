/**
 * Slows down whoever guesses passwords, without a lock that a stranger could put on somebody's account: failures are
 * counted per address and login together, and more loosely per address. Counts live in this process and are forgotten.
 */
import { ProblemError } from './errors.ts';

const WINDOW_MS = 15 * 60_000;
const MOST_PER_LOGIN = 10;
/** A whole shift may sit behind one address. */
const MOST_PER_ADDRESS = 60;
/** Beyond this many keys the oldest are forgotten: memory has a cap. */
const MOST_KEYS = 20_000;

export interface SignInLimit {
  /** @throws 429 */
  check: (address: string, login: string) => void;
  failed: (address: string, login: string) => void;
  succeeded: (address: string, login: string) => void;
}

export const signInLimit = (now: () => Date): SignInLimit => {
  const failures = new Map<string, { count: number; untilMs: number }>();

  const current = (key: string) => {
    const entry = failures.get(key);
    return entry && entry.untilMs > now().getTime() ? entry : null;
  };
  const count = (key: string): void => {
    const entry = current(key) ?? { count: 0, untilMs: now().getTime() + WINDOW_MS };
    failures.delete(key);
    failures.set(key, { ...entry, count: entry.count + 1 });
    const oldest = failures.size > MOST_KEYS ? failures.keys().next().value : undefined;
    if (oldest !== undefined) failures.delete(oldest);
  };
  const refuseAbove = (key: string, most: number): void => {
    const entry = current(key);
    if (entry === null || entry.count < most) return;
    const seconds = Math.ceil((entry.untilMs - now().getTime()) / 1000);
    throw new ProblemError(429, 'Too many failed attempts from here. Try again later.', { retryAfterSeconds: seconds });
  };

  return {
    check: (address, login) => {
      refuseAbove(`${address}\n${login}`, MOST_PER_LOGIN);
      refuseAbove(address, MOST_PER_ADDRESS);
    },
    failed: (address, login) => {
      count(`${address}\n${login}`);
      count(address);
    },
    succeeded: (address, login) => {
      failures.delete(`${address}\n${login}`);
    },
  };
};
