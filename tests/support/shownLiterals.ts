/** Finds the literals in a source of the page that a person would see or hear. */
import { parseSync } from 'vite';

export interface ShownLiteral {
  readonly line: number;
  readonly text: string;
}

interface Node {
  readonly type: string;
  readonly start: number;
  readonly [part: string]: unknown;
}

const isNode = (value: unknown): value is Node =>
  typeof value === 'object' && value !== null && typeof (value as Node).type === 'string';

/** Symbols and units are the same in every language: no word of theirs has two letters that belong to one. */
const WORD = /\p{L}[\p{L}\p{M}’]+/gu;
const UNITS = /^(?:Pa|mbar|Torr|min|kB|MB|GB|Hz|mm|cm|px|JSON|Ullage)$/;
const hasWord = (text: string): boolean => (text.match(WORD) ?? []).some((word) => !UNITS.test(word));

/** In code, nothing but speech has two words with a space between, or begins with a capital. */
const SPEECH = /[\p{L}\p{M}\d,:;.’'…)]+ +\p{L}/u;
const TITLE = /^\p{Lu}\p{Ll}{2,}[….:]?$/u;
/** What the browser calls its keys and methods. */
const PROGRAM_WORD = /^(?:Enter|Escape|Shift|Space|Tab|Home|End|Delete|Control|Meta|Alt|Esc)$/;
const isSpeech = (text: string): boolean => SPEECH.test(text) || (TITLE.test(text) && !PROGRAM_WORD.test(text));
/** A word beside a hole of a template, with a space before or behind it. */
const SPEECH_IN_TEMPLATE = /\p{L}{2}[,.:;)]* | \p{L}{2}/u;

/** Attributes, and properties of our own parts, whose text reaches a person. */
const SHOWN =
  /^(?:aria-(?:label|description|roledescription|valuetext|placeholder)|title|placeholder|alt|label|summary|margin|what|word|heading|sentence|note|text|says|caption|hint|legend|message|fallback)$/;
/** Attributes that hold several words of a program. */
const SILENT =
  /^(?:class(?:Name)?|d|key|style|viewBox|points|transform|stroke.*|rel|accept|data-.+|aria-.+|href|to|src)$/;
/** What a comparison asks for is a word of the program. */
const COMPARISON = /^[=!]==?$|^[<>]=?$|^in$/;

type Place = 'shown' | 'code';

/** Types, imports and faults that no person meets say nothing. */
const SKIPPED = /^(?:Import.*|ExportAll.*|Throw.*|TS(?!As|Satisfies|NonNull|Instantiation).*)$/;
/** What is handed to a function or kept in a table is judged by how it reads, wherever that stands. */
const CODE = /^(?:(?:Arrow)?Function.*|ObjectExpression|ArrayExpression|VariableDeclaration|NewExpression)$/;

export function shownLiterals(file: string, source: string): ShownLiteral[] {
  const { program, errors } = parseSync(file, source);
  if (errors.length > 0) throw new Error(`${file} cannot be read: ${errors[0]?.message}`);
  const found: ShownLiteral[] = [];

  const take = (node: Node, whole: string, isShown: (text: string) => boolean): void => {
    const text = whole.replace(/\s+/g, ' ').trim();
    if (isShown(text)) found.push({ line: source.slice(0, node.start).split('\n').length, text });
  };

  const all = (value: unknown, place: Place): void => {
    if (Array.isArray(value)) for (const part of value) all(part, place);
    else if (isNode(value)) walk(value, place);
  };

  const template = (node: Node, place: Place): void => {
    const said = (node.quasis as { value: { raw: string; cooked: string | null } }[])
      .map(({ value }) => value.cooked ?? value.raw)
      .filter((part) => hasWord(part) && (place === 'shown' || SPEECH_IN_TEMPLATE.test(part)));
    if (said.length > 0) take(node, said.join(' … '), () => true);
    all(node.expressions, place);
  };

  const attribute = (node: Node): void => {
    const name = String((node.name as Node).name);
    if (SHOWN.test(name)) all(node.value, 'shown');
    else if (!SILENT.test(name)) all(node.value, 'code');
  };

  const element = (node: Node): void => {
    if (isNode(node.openingElement)) all(node.openingElement.attributes, 'code');
    all(node.children, 'shown');
  };

  const walk = (node: Node, place: Place): void => {
    if (SKIPPED.test(node.type)) return;
    if (node.type === 'JSXText') take(node, String(node.value), hasWord);
    else if (node.type === 'Literal' && typeof node.value === 'string')
      take(node, node.value, place === 'shown' ? hasWord : (text) => hasWord(text) && isSpeech(text));
    else if (node.type === 'TemplateLiteral') template(node, place);
    else if (node.type === 'JSXAttribute') attribute(node);
    else if (node.type === 'JSXElement' || node.type === 'JSXFragment') element(node);
    else if (node.type === 'BinaryExpression' && COMPARISON.test(String(node.operator))) return;
    else {
      for (const [name, part] of Object.entries(node)) {
        const decides = name === 'test' || (name === 'left' && node.operator === '&&');
        const isKey = name === 'key' && node.type === 'Property';
        const called = node.type === 'CallExpression' || node.type === 'MemberExpression';
        if (node.type === 'SwitchCase' ? name !== 'test' : !isKey)
          all(part, decides || called || CODE.test(node.type) ? 'code' : place);
      }
    }
  };

  walk(program as unknown as Node, 'code');
  return found;
}
