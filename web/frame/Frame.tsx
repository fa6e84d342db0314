import { type ReactNode, useState } from 'react';
import { useLocation } from 'wouter';
import { UnsentNotes } from '../alerts/UnsentNotes.tsx';
import { words } from '../strings/frame.ts';
import { Hatch } from '../strip/Hatch.tsx';
import { useDisplay } from './display.ts';
import { KeysHelp } from './KeysHelp.tsx';
import { useKeptPreferences } from './keptPreferences.ts';
import { useKeys } from './keys.ts';
import { LineBar } from './Liveness.tsx';
import { LiveLine } from './live.tsx';
import { Masthead } from './Masthead.tsx';
import { NewAlerts } from './NewAlerts.tsx';
import { PageProblem } from './PageProblem.tsx';
import { INNER_PAGES, PAGES } from './pages.ts';

/** What every page has around it once a person is signed in: masthead, margin, rule, line to the server. */
export function Frame({ children }: { readonly children: ReactNode }) {
  const [helping, setHelping] = useState(false);
  const [path, go] = useLocation();
  useKeptPreferences();
  useDisplay();
  useKeys({
    '?': () => setHelping(true),
    ...Object.fromEntries([...PAGES, ...INNER_PAGES].map(({ href, key }) => [`g ${key}`, () => go(href)])),
  });
  return (
    <LiveLine>
      <a className="skip" href="#matter">
        {words.skip}
      </a>
      <Hatch />
      <Masthead />
      <main id="matter" tabIndex={-1}>
        <div className="blk">
          <div className="m" />
          <div className="c">
            <LineBar />
            <UnsentNotes />
          </div>
        </div>
        <PageProblem place={path}>{children}</PageProblem>
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
