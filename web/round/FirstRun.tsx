import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { RoundLine } from '../../shared/contract/round.ts';
import { fleetQuestion } from '../api/questions.ts';
import { Curl } from '../fleet/Curl.tsx';
import { FIRST_DOCUMENT } from '../fleet/curl.ts';
import { DocumentForm } from '../fleet/DocumentForm.tsx';
import { TokenForm } from '../fleet/TokenForm.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { useMay, useSession } from '../frame/site.ts';
import { several } from '../notation/sentence.ts';
import { Strip } from '../strip/Strip.tsx';
import { StripHead } from '../strip/StripHead.tsx';
import { useLayout } from '../strip/useLayout.ts';

const NO_SCAN = { kind: 'learning', progress: 'no scan yet' } as const;

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
            Round
            <br />
            <b>{chambers.length === 0 ? 'no chambers yet' : 'no scans yet'}</b>
          </>
        }
      >
        <h1 className="verdict">
          {chambers.length === 0
            ? 'Nothing is being watched yet. Four steps and about ten minutes from here, your first chamber draws itself on this page.'
            : `${several(chambers.length, 'chamber waits', 'chambers wait')} for a first scan. Two more steps, and it draws itself on this page.`}
        </h1>
      </Head>
      <div className="blk heads">
        <div className="m" />
        <div className="c">
          <h2 className="note">Your area</h2>
          <StripHead layout={layout} />
        </div>
      </div>
      <article className="blk row bare" aria-label="The row that will appear">
        <div className="m">
          <div className="txt">
            priority and state
            <br />
            stand here
          </div>
        </div>
        <div className="c">
          <div className="who">
            <h3>{chambers[0]?.name ?? 'Your chamber'}</h3>
            <span className="note">its state, its last scan</span>
          </div>
          <div className="cell">
            <Strip marks={[]} layout={layout} condition={NO_SCAN} />
          </div>
          <p className="say">What is so, since when and how sure, in one sentence; under it the first thing to do.</p>
        </div>
      </article>
      <Section className="sec last" margin={<b>step by step</b>}>
        {admin ? <Steps hasFleet={chambers.length > 0} /> : <NotAdmin />}
      </Section>
    </>
  );
}

function NotAdmin() {
  return <p className="say">An admin has to say which chambers there are; until then there is nothing to see here.</p>;
}

function Steps({ hasFleet }: { readonly hasFleet: boolean }) {
  const { who } = useSession();
  const { data: fleet } = useQuery(fleetQuestion);
  const analysers = fleet?.analysers.map(({ id }) => id) ?? [];
  return (
    <ol className="go">
      <li className="done">
        <b aria-hidden="true">1</b>
        <div>
          <p className="say">Sign in. Done, as {who?.name}.</p>
        </div>
      </li>
      {hasFleet ? (
        <li className="done">
          <b aria-hidden="true">2</b>
          <div>
            <p className="say">
              Say which chambers there are. Done; change it on the <Link href="/fleet">fleet page</Link>.
            </p>
          </div>
        </li>
      ) : (
        <li>
          <b aria-hidden="true">2</b>
          <div>
            <p className="say">Say which chambers there are.</p>
            <p>
              A fleet is one document: areas, chambers, analysers. Begin with one chamber; add the rest later by
              applying it again.
            </p>
            <DocumentForm initial={FIRST_DOCUMENT} mayApply />
          </div>
        </li>
      )}
      <li>
        <b aria-hidden="true">3</b>
        <div>
          <p className="say">Make a token for the gateway that sends the scans.</p>
          <p>It is shown once. It can send scans for the analysers you name and nothing else.</p>
          <TokenForm analysers={analysers} />
        </div>
      </li>
      <li>
        <b aria-hidden="true">4</b>
        <div>
          <p className="say">Send one scan. Copy this as it is:</p>
          <Curl analyser={analysers[0] ?? 'prep-1-a'} />
          <p className="note">
            <i className="pulse" />
            Waiting for the first scan. This page changes by itself when it arrives.
          </p>
        </div>
      </li>
    </ol>
  );
}
