/**
 * Passwords: argon2id with the parameters of the OWASP Password Storage Cheat Sheet (19 MiB, two passes, one lane).
 * At most two are worked on at once, because each takes memory and a core; a queue that grows beyond reason is
 * refused instead of starving the scans.
 */
import { type Algorithm, hash, verify } from '@node-rs/argon2';
import { ProblemError } from './errors.ts';

// The package declares Algorithm as an ambient const enum, which isolated modules cannot read: 2 is Argon2id.
const ARGON2ID = 2 as Algorithm;
const COST = { algorithm: ARGON2ID, memoryCost: 19_456, timeCost: 2, parallelism: 1 };
const AT_ONCE = 2;
const MOST_WAITING = 20;

let working = 0;
const waiting: (() => void)[] = [];

const inTurn = async <T>(work: () => Promise<T>): Promise<T> => {
  if (working >= AT_ONCE) {
    if (waiting.length >= MOST_WAITING)
      throw new ProblemError(429, 'Too many sign-ins at once. Try again in a moment.', { retryAfterSeconds: 5 });
    // The slot is handed over: `working` stays as it is.
    await new Promise<void>((go) => waiting.push(go));
  } else working++;
  try {
    return await work();
  } finally {
    const next = waiting.shift();
    if (next) next();
    else working--;
  }
};

export const hashPassword = (password: string): Promise<string> => inTurn(() => hash(password, COST));

let nobody: Promise<string> | undefined;

/** @param stored null for an unknown login: the same work is done, so that the time tells nothing */
export const passwordFits = async (stored: string | null, password: string): Promise<boolean> => {
  nobody ??= hash('nobody has this password', COST);
  const against = stored ?? (await nobody);
  const fits = await inTurn(() => verify(against, password));
  return stored !== null && fits;
};
