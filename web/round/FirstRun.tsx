import { useQuery } from '@tanstack/react-query';
import { type ReactNode, useState } from 'react';
import { Link } from 'wouter';
import type { RoundLine } from '../../shared/contract/round.ts';
import { fleetQuestion } from '../api/questions.ts';
import { Curl } from '../fleet/Curl.tsx';
import { FIRST_DOCUMENT } from '../fleet/curl.ts';
import { DocumentForm } from '../fleet/DocumentForm.tsx';
import { TokenForm } from '../fleet/TokenForm.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { useMay, useSession } from '../frame/site.ts';
import { words } from '../strings/firstRun.ts';
import { Rich } from '../strings/Rich.tsx';
import { Strip } from '../strip/Strip.tsx';
import { StripHead } from '../strip/StripHead.tsx';
import { useLayout } from '../strip/useLayout.ts';

/** As the document to begin with names it. */
const FIRST_ANALYSER = 'prep-1-a';
const NO_SCAN = { kind: 'learning', progress: words.noScanYet } as const;

interface FirstRunProps {
  /** Chambers that are in the fleet and have not sent a scan. */
  readonly chambers: readonly RoundLine[];
}

/** The round of a site that has had no scan yet: it shows the row that will appear, and how to get it. */
export function FirstRun({ chambers }: FirstRunProps) {
  const layout = useLayout([], 'row');
  const admin = useMay('admin');
  return (
    <>
      <Head
        margin={
          <>
            {words.round}
            <br />
            <b>{chambers.length === 0 ? words.noChambersYet : words.noScansYet}</b>
          </>
        }
      >
        <h1 className="verdict">
          {chambers.length === 0 ? words.nothingIsBeingWatchedYet : words.waitsForAFirstScan(chambers.length)}
        </h1>
      </Head>
      <div className="blk heads">
        <div className="m" />
        <div className="c">
          <h2 className="note">{words.yourArea}</h2>
          <StripHead layout={layout} />
        </div>
      </div>
      <article className="blk row bare" aria-label={words.theRowThatWillAppear}>
        <div className="m">
          <div className="txt">
            {words.priorityAndState}
            <br />
            {words.standHere}
          </div>
        </div>
        <div className="c">
          <div className="who">
            <h3>{chambers[0]?.name ?? words.yourChamber}</h3>
            <span className="note">{words.itsStateItsLastScan}</span>
          </div>
          <div className="cell">
            <Strip marks={[]} layout={layout} condition={NO_SCAN} />
          </div>
          <p className="say">{words.whatIsSoSince}</p>
        </div>
      </article>
      <Section className="sec last" margin={<b>{words.stepByStep}</b>}>
        {admin ? <Steps hasFleet={chambers.length > 0} /> : <NotAdmin />}
      </Section>
    </>
  );
}

function NotAdmin() {
  return <p className="say">{words.anAdminHasToSay}</p>;
}

function Steps({ hasFleet }: { readonly hasFleet: boolean }) {
  const { who } = useSession();
  const { data: fleet } = useQuery(fleetQuestion);
  const analysers = fleet?.analysers.map(({ id }) => id) ?? [];
  const [made, setMade] = useState<{ token: string; analyser: string | undefined } | null>(null);
  return (
    <ol className="go">
      <Step n={1} done say={words.signInDone(who?.name ?? '')} />
      {hasFleet ? (
        <Step
          n={2}
          done
          say={<Rich text={words.chambersDone} parts={{ link: (inner) => <Link href="/fleet">{inner}</Link> }} />}
        />
      ) : (
        <Step n={2} say={words.chambersToDo}>
          <p>{words.aFleetIsOneDocument}</p>
          <DocumentForm initial={FIRST_DOCUMENT} mayApply />
        </Step>
      )}
      <Step n={3} say={words.makeAToken}>
        <p>{words.itIsShownOnce}</p>
        <TokenForm analysers={analysers} onGateway={(token, analyser) => setMade({ token, analyser })} />
      </Step>
      <Step n={4} say={made ? words.sendOneScanCopy : words.sendOneScanTheToken}>
        <Curl token={made?.token} analyser={made?.analyser ?? analysers[0] ?? FIRST_ANALYSER} />
        <p className="note">
          <i className="pulse" />
          {words.waitingForTheFirstScan}
        </p>
      </Step>
    </ol>
  );
}

interface StepProps {
  readonly n: number;
  readonly done?: boolean;
  readonly say: ReactNode;
  readonly children?: ReactNode;
}

function Step({ n, done = false, say, children }: StepProps) {
  return (
    <li className={done ? 'done' : undefined}>
      <b aria-hidden="true">{n}</b>
      <div>
        <p className="say">{say}</p>
        {children}
      </div>
    </li>
  );
}
