import { useState } from 'react';
import { nowMs } from '../frame/clock.ts';
import { words } from '../strings/fleet.ts';
import { scanCurl } from './curl.ts';

interface CurlProps {
  readonly token?: string | undefined;
  readonly analyser: string;
}

/** A command that works as it is once the token is in it. */
export function Curl({ token = 'YOUR-TOKEN', analyser }: CurlProps) {
  const [at] = useState(() => new Date(nowMs()));
  const command = scanCurl({ origin: window.location.origin, token, analyser, at });
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls sideways and must be reachable by keyboard */}
      <pre tabIndex={0}>{command}</pre>
      <CopyButton key={command} text={command} word={words.copyCommand} />
    </>
  );
}

export function CopyButton({ text, word }: { readonly text: string; readonly word: string }) {
  const [state, setState] = useState<'ready' | 'copied' | 'refused'>('ready');
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text);
      setState('copied');
    } catch {
      // Without https most browsers give no clipboard: the text stays selectable.
      setState('refused');
    }
  };
  return (
    <span className="does">
      <button type="button" onClick={() => void copy()}>
        {state === 'copied' ? words.copied : word}
      </button>
      <span className="note" role="status">
        {state === 'refused' ? words.copyRefused : ''}
      </span>
    </span>
  );
}
