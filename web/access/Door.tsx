import type { ReactNode } from 'react';
import type { Session } from '../../shared/contract/access.ts';
import { Brand } from '../frame/Brand.tsx';
import { Head } from '../frame/Section.tsx';
import { words } from '../strings/access.ts';

interface DoorProps {
  readonly session: Session;
  readonly margin: ReactNode;
  readonly children: ReactNode;
}

/** The frame of those who have not signed in: name of the site and nothing of its state. */
export function Door({ session, margin, children }: DoorProps) {
  return (
    <>
      <header className="blk mast">
        <div className="m">
          <Brand />
          <span className="w">Ullage</span>
        </div>
        <div className="c">
          <span className="site">{session.site.name}</span>
          <div className="r">{session.site.example ? <span className="exa">{words.example}</span> : null}</div>
        </div>
      </header>
      <main>
        <Head margin={margin}>{children}</Head>
        <div className="blk fill">
          <div className="m" />
          <div className="c" />
        </div>
      </main>
    </>
  );
}
