import { useEffect, useId, useRef, useState } from 'react';
import { frozenSearch } from '../address/frozen.ts';
import { words } from '../strings/frame.ts';
import { announce } from './announce.ts';
import { nowMs } from './clock.ts';
import { Key } from './Key.tsx';
import { useKeys } from './keys.ts';
import { Sheet } from './Sheet.tsx';

/** "Copied" has been read after this time. */
const SAID_MS = 3_000;

/** The absolute link to the view as it is now. */
export function linkToView({ origin, pathname, search }: Location, now: number): string {
  const frozen = frozenSearch(search, now);
  return `${origin}${pathname}${frozen === '' ? '' : `?${frozen}`}`;
}

interface CopyLinkProps {
  /** The button that the key belongs to: there is a second one where the masthead is narrow. */
  readonly keyed?: boolean;
  readonly className?: string;
}

export function CopyLink({ keyed = false, className }: CopyLinkProps) {
  const [copied, setCopied] = useState(false);
  const [byHand, setByHand] = useState<string | null>(null);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  useEffect(() => () => clearTimeout(timer.current), []);
  const copy = async () => {
    const link = linkToView(window.location, nowMs());
    try {
      await navigator.clipboard.writeText(link);
      setCopied(true);
      announce(words.linkCopiedAloud, 'polite');
      clearTimeout(timer.current);
      timer.current = setTimeout(() => setCopied(false), SAID_MS);
    } catch {
      // Without https most browsers give no clipboard.
      setByHand(link);
    }
  };
  useKeys(keyed ? { u: () => void copy() } : {});
  return (
    <>
      <button type="button" className={className} onClick={() => void copy()}>
        {copied ? words.linkCopied : words.copyLink} {keyed ? <Key name="u" /> : null}
      </button>
      {byHand === null ? null : <LinkSheet link={byHand} close={() => setByHand(null)} />}
    </>
  );
}

function LinkSheet({ link, close }: { readonly link: string; readonly close: () => void }) {
  const field = useId();
  return (
    <Sheet title={words.linkTitle} close={close}>
      <label htmlFor={field}>{words.linkByHand}</label>
      <input
        id={field}
        className="link"
        readOnly
        value={link}
        ref={(input) => {
          input?.focus();
          input?.select();
        }}
      />
    </Sheet>
  );
}
