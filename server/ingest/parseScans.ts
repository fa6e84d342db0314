/**
 * From bytes to things that may be scans. A body that cannot be read at all is refused; of a body of lines only the
 * lines that cannot be read.
 */
import { ProblemError } from '../errors.ts';

export const MOST_SCANS = 2000;
/** A scan nests four deep; far beyond that the parser and everything after it would only be kept busy. */
const DEEPEST = 32;

/** `value` as sent, or why it cannot be read; `text` is what was sent where it cannot. */
export type Sent = { value: unknown } | { text: string; problem: string };

const BRACE_OPEN = 0x7b;
const BRACE_CLOSE = 0x7d;
const BRACKET_OPEN = 0x5b;
const BRACKET_CLOSE = 0x5d;
const QUOTE = 0x22;
const BACKSLASH = 0x5c;

/** Whether brackets nest deeper than anything we read; looks at the bytes, so that no parser has to. */
export const nestsTooDeep = (bytes: Uint8Array): boolean => {
  let depth = 0;
  let inText = false;
  for (let i = 0; i < bytes.length; i++) {
    const byte = bytes[i];
    if (inText) {
      if (byte === BACKSLASH) i++;
      else if (byte === QUOTE) inText = false;
    } else if (byte === QUOTE) inText = true;
    else if (byte === BRACE_OPEN || byte === BRACKET_OPEN) {
      if (++depth > DEEPEST) return true;
    } else if (byte === BRACE_CLOSE || byte === BRACKET_CLOSE) depth--;
  }
  return false;
};

const decode = (bytes: Uint8Array): string => new TextDecoder('utf-8', { fatal: true }).decode(bytes);

/**
 * Some gateways write NaN and Infinity, which JSON does not have. They are read as what they mean, so that the scan
 * which holds them is refused by name and the others are not lost with it.
 */
const STRANGE_NUMBERS = /"(?:[^"\\]|\\.)*"|-?\b(?:NaN|Infinity)\b/g;
const parseLoosely = (text: string): unknown => {
  try {
    return JSON.parse(text);
  } catch (error) {
    if (!/NaN|Infinity/.test(text)) throw error;
    // 1e999 is valid JSON and becomes Infinity, which is no more a measurement than NaN is.
    return JSON.parse(text.replace(STRANGE_NUMBERS, (token) => (token.startsWith('"') ? token : '1e999')));
  }
};

const unreadable = (error: unknown): string =>
  error instanceof TypeError ? 'is not valid UTF-8' : `is not valid JSON (${(error as Error).message})`;

const checkCount = (count: number): void => {
  if (count > MOST_SCANS)
    throw new ProblemError(413, `The body holds ${count} scans; at most ${MOST_SCANS} are taken at once.`);
};

/** `{"scans": [...]}` */
export const parseJsonScans = (bytes: Buffer): Sent[] => {
  if (nestsTooDeep(bytes)) throw new ProblemError(400, `The body nests deeper than ${DEEPEST} levels.`);
  let body: unknown;
  try {
    body = parseLoosely(decode(bytes));
  } catch (error) {
    throw new ProblemError(400, `The body ${unreadable(error)}.`);
  }
  const wrong = (path: string, problem: string) =>
    new ProblemError(400, `${path}: ${problem}`, { errors: [{ path, problem }] });
  if (typeof body !== 'object' || body === null || Array.isArray(body))
    throw wrong('/', 'must be an object with "scans"');
  const unknown = Object.keys(body).find((key) => key !== 'scans');
  if (unknown !== undefined) throw wrong(`/${unknown}`, 'is not a field that is known here');
  const { scans } = body as { scans?: unknown };
  if (scans === undefined) throw wrong('/scans', 'is missing');
  if (!Array.isArray(scans)) throw wrong('/scans', 'must be a list');
  checkCount(scans.length);
  return scans.map((value: unknown) => ({ value }));
};

const linesOf = (bytes: Buffer): Buffer[] => {
  const lines: Buffer[] = [];
  let start = 0;
  while (start < bytes.length) {
    const found = bytes.indexOf(0x0a, start);
    const end = found === -1 ? bytes.length : found;
    const line = bytes.subarray(start, end);
    // Blank lines, a carriage return alone among them, are no scans and take no index.
    if (line.some((byte) => byte > 0x20)) lines.push(line);
    if (lines.length > MOST_SCANS) checkCount(lines.length);
    start = end + 1;
  }
  return lines;
};

/** A scan a line. */
export const parseLineScans = (bytes: Buffer): Sent[] => {
  const lines = linesOf(bytes);
  if (lines.length === 0) throw new ProblemError(400, 'The body holds no line.');
  const sent = lines.map((line): Sent => {
    const text = line.toString('utf8');
    if (nestsTooDeep(line)) return { text, problem: `the line nests deeper than ${DEEPEST} levels` };
    try {
      return { value: parseLoosely(decode(line)) };
    } catch (error) {
      return { text, problem: `the line ${unreadable(error)}` };
    }
  });
  if (sent.every((one) => 'problem' in one)) throw new ProblemError(400, 'No line of the body can be read as JSON.');
  return sent;
};
