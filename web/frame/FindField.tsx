import { useRef } from 'react';
import { words } from '../strings/frame.ts';
import { Key } from './Key.tsx';
import { useKeys } from './keys.ts';

interface FindFieldProps {
  readonly value: string;
  readonly size: number;
  /** What may be looked for. */
  readonly hint: string;
  readonly find: (text: string) => void;
}

/** The field that narrows a list by words; `/` leads to it from anywhere, Escape out of it. */
export function FindField({ value, size, hint, find }: FindFieldProps) {
  const field = useRef<HTMLInputElement>(null);
  useKeys({ '/': () => field.current?.focus() });
  return (
    <label>
      {words.find} <Key name="/" />{' '}
      <input
        ref={field}
        type="search"
        size={size}
        placeholder={hint}
        value={value}
        onChange={(event) => find(event.target.value)}
        onKeyDown={(event) => event.key === 'Escape' && event.currentTarget.blur()}
      />
    </label>
  );
}
