/** NUL cannot be stored as text, and half of a surrogate pair is no character. */
import type { FieldProblem } from './schemaWords.ts';

export const isStorable = (text: string): boolean => !text.includes('\0') && !/\p{Surrogate}/u.test(text);

/** What PostgreSQL can hold of a text that is kept as evidence, not as an identity. */
export const storable = (text: string, most: number): string =>
  text
    .slice(0, most)
    .replaceAll('\0', '\uFFFD')
    .replace(/\p{Surrogate}/gu, '\uFFFD');

/** The first text of a parsed body, key or value, that cannot be stored. */
export const unstorableText = (body: unknown): FieldProblem | null => {
  const waiting: [unknown, string][] = [[body, '']];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const [value, path] = next;
    if (typeof value === 'string' && !isStorable(value))
      return { path: path === '' ? '/' : path, problem: 'holds a character that cannot be stored' };
    if (typeof value !== 'object' || value === null) continue;
    for (const [key, one] of Object.entries(value)) {
      if (!isStorable(key)) return { path: path === '' ? '/' : path, problem: 'has a key that cannot be stored' };
      waiting.push([one, `${path}/${key}`]);
    }
  }
  return null;
};
