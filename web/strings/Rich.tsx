import { createElement, Fragment, type ReactElement, type ReactNode } from 'react';

export type Parts = Readonly<Record<string, (inner: ReactNode) => ReactNode>>;

interface RichProps {
  /** A sentence of the catalogue with `<name>…</name>` around what becomes a part, or `<name/>` in its place. */
  readonly text: string;
  readonly parts: Parts;
}

/** A whole sentence of the catalogue in which some words are links, code or bold. Unknown tags stay text. */
export function Rich({ text, parts }: RichProps) {
  return asOne(filled(text, parts));
}

/** Children as arguments: their places in a sentence do not move, so they need no keys. */
const asOne = (nodes: readonly ReactNode[]): ReactElement => createElement(Fragment, null, ...nodes);

function filled(text: string, parts: Parts): ReactNode[] {
  const names = Object.keys(parts).join('|');
  const found = names === '' ? null : new RegExp(`<(${names})(?:\\s*/>|>(.*?)</\\1>)`, 's').exec(text);
  if (!found) return text === '' ? [] : [text];
  const [all, name = '', inner] = found;
  return [
    text.slice(0, found.index),
    parts[name]?.(inner === undefined ? null : asOne(filled(inner, parts))),
    ...filled(text.slice(found.index + all.length), parts),
  ];
}
