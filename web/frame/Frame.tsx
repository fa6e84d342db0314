import { type ReactNode, useState } from 'react';
import { useLocation } from 'wouter';
import { Hatch } from '../strip/Hatch.tsx';
import { KeysHelp } from './KeysHelp.tsx';
import { useKeys } from './keys.ts';
import { LineBar } from './Liveness.tsx';
import { LiveLine } from './live.tsx';
import { INNER_PAGES, Masthead, PAGES } from './Masthead.tsx';
import { NewAlerts } from './NewAlerts.tsx';

/** What every page has around it once a person is signed in: masthead, margin, rule, line to the server. */
export function Frame({ children }: { readonly children: ReactNode }) {
  const [helping, setHelping] = useState(false);
  const [, go] = useLocation();
  useKeys({
    '?': () => setHelping(true),
    ...Object.fromEntries([...PAGES, ...INNER_PAGES].map(({ href, key }) => [`g ${key}`, () => go(href)])),
  });
  return (
    <LiveLine>
      <a className="skip" href="#matter">
        Skip to the matter
      </a>
      <Hatch />
      <Masthead />
      <main id="matter" tabIndex={-1}>
        <div className="blk">
          <div className="m" />
          <div className="c">
            <LineBar />
          </div>
        </div>
        {children}
        <div className="blk fill">
          <div className="m" />
          <div className="c" />
        </div>
      </main>
      <NewAlerts />
      {helping ? <KeysHelp close={() => setHelping(false)} /> : null}
    </LiveLine>
  );
}
