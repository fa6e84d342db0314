import type { Problem } from '../../shared/contract/problem.ts';
import { words } from '../strings/api.ts';

/** The server said no, or nothing came back at all (`status` 0). `message` is a sentence for the reader. */
export class RefusedError extends Error {
  readonly status: number;
  readonly problem: Problem | null;
  readonly requestId: string | null;

  constructor(answer: { status: number; message: string; problem?: Problem | null; requestId?: string | null }) {
    super(answer.message);
    this.name = 'RefusedError';
    this.status = answer.status;
    this.problem = answer.problem ?? null;
    this.requestId = answer.requestId ?? null;
  }
}

/** A server that is frozen must not leave the page waiting for ever. */
const PATIENCE_MS = 20_000;

export interface Question {
  readonly method?: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE';
  readonly body?: unknown;
  readonly signal?: AbortSignal | undefined;
}

/** The only fetch of the page. Throws `RefusedError`, whatever went wrong. */
export async function ask<T>(path: string, question: Question = {}): Promise<T> {
  const { method = 'GET', body, signal } = question;
  const limit = AbortSignal.timeout(PATIENCE_MS);
  const away = (error: unknown): never => {
    if (signal?.aborted) throw error;
    throw new RefusedError({ status: 0, message: words.noAnswer });
  };
  const response = await fetch(path, {
    method,
    credentials: 'same-origin',
    headers: { accept: 'application/json', ...(body === undefined ? {} : { 'content-type': 'application/json' }) },
    signal: signal ? AbortSignal.any([signal, limit]) : limit,
    ...(body === undefined ? {} : { body: typeof body === 'string' ? body : JSON.stringify(body) }),
  }).catch(away);
  // The line may also be cut in the middle of an answer.
  const text = await response.text().catch(away);
  if (!response.ok) throw refusalOf(response, text);
  return (text === '' ? undefined : parsed(text, response)) as T;
}

function parsed(text: string, response: Response): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw new RefusedError({
      status: response.status,
      message: words.unreadable,
      requestId: requestIdOf(response, null),
    });
  }
}

const requestIdOf = (response: Response, problem: Problem | null): string | null =>
  problem?.instance ?? response.headers.get('x-request-id');

function refusalOf(response: Response, text: string): RefusedError {
  const problem = problemIn(text);
  const message = problem?.detail ?? problem?.title ?? words.answered(response.status);
  return new RefusedError({ status: response.status, message, problem, requestId: requestIdOf(response, problem) });
}

function problemIn(text: string): Problem | null {
  try {
    const value: unknown = JSON.parse(text);
    return value !== null && typeof value === 'object' && 'title' in value ? (value as Problem) : null;
  } catch {
    return null;
  }
}

/** `?a=1&b=2` out of what is set; an empty string when nothing is. */
export function query(fields: Readonly<Record<string, string | number | null | undefined>>): string {
  const search = new URLSearchParams();
  for (const [name, value] of Object.entries(fields)) {
    if (value !== null && value !== undefined && value !== '') search.set(name, String(value));
  }
  const text = search.toString();
  return text === '' ? '' : `?${text}`;
}
