import { Fragment } from 'react';
import { sentenceIn } from '../notation/sentence.ts';
import { useUnit } from './site.ts';

/** A sentence of the server in the reader's unit, with no-break spaces and real subscripts. */
export function Sentence({ text }: { readonly text: string }) {
  const unit = useUnit();
  return <Fragment>{sentenceIn(text, unit)}</Fragment>;
}
