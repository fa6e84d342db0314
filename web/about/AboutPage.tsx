import { type UseQueryResult, useQuery } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import type { About } from '../../shared/contract/about.ts';
import { aboutQuestion, roundQuestion } from '../api/questions.ts';
import { Age, Lasting } from '../frame/Age.tsx';
import { newestScan } from '../frame/Liveness.tsx';
import { Answered } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { useMay, useSession } from '../frame/site.ts';
import { useTitle } from '../frame/title.ts';
import { duration } from '../notation/age.ts';
import { count } from '../notation/number.ts';
import { words } from '../strings/about.ts';
import { Rich } from '../strings/Rich.tsx';
import { FactsTable } from './FactsTable.tsx';
import { OperationSection } from './OperationSection.tsx';

/** The sentence at the head: whether all answers are up to date. */
export function lagSentence(waiting: About['waiting'] | undefined): string {
  if (waiting === undefined) return words.unknownLag;
  const { scans, oldestSeconds } = waiting;
  if (scans === 0) return words.upToDate;
  return oldestSeconds === null ? words.behind(scans) : words.behindSince(scans, duration(oldestSeconds));
}

export const migrationText = ({ applied, known, newest }: About['migration']): string => {
  if (applied > known) return words.migrationAhead(applied, known);
  if (newest === null) return words.migrationNone;
  return applied < known ? words.migrationBehind(newest, applied, known) : words.migrationIs(newest, applied);
};

export function AboutPage() {
  useTitle(words.title);
  const about = useQuery(aboutQuestion);
  const isEngineer = useMay('engineer');
  return (
    <>
      <Head margin={words.title}>
        <h1 className="verdict">{lagSentence(about.isError ? undefined : about.data?.waiting)}</h1>
      </Head>
      <Installation about={about} />
      {isEngineer ? (
        <OperationSection />
      ) : (
        <Section className="sec" margin={words.operationMargin}>
          <h2>{words.operation}</h2>
          <p className="note">{words.forEngineers}</p>
        </Section>
      )}
      <Section className="sec last">
        <p className="note about">
          <Rich text={words.neverSwitches} parts={LINKS} />
        </p>
      </Section>
    </>
  );
}

const to = (href: string) => (inner: ReactNode) => <a href={href}>{inner}</a>;
const LINKS = {
  api: to('/api/v1/openapi.json'),
  gases: to('/api/v1/gases'),
  fira: to('/fonts/OFL-FiraSans.txt'),
  stix: to('/fonts/OFL-STIXTwoText.txt'),
};

function Installation({ about }: { readonly about: UseQueryResult<About> }) {
  const { site } = useSession();
  const { data: round } = useQuery(roundQuestion);
  return (
    <Section className="sec" margin={words.versionsMargin}>
      <h2>{words.installation}</h2>
      <Answered question={about} what={words.facts} lines={8}>
        {({ version, catalogue, migration, waiting, startedAt }) => (
          <FactsTable
            rows={[
              ['Ullage', version],
              [words.catalogue, words.catalogueIs(catalogue.version, catalogue.gases)],
              [words.migration, migrationText(migration)],
              [
                words.waiting,
                waiting.oldestSeconds === null
                  ? words.waitingIs(waiting.scans)
                  : words.waitingOldest(waiting.scans, duration(waiting.oldestSeconds)),
              ],
              [words.tasks, words.tasksAre(waiting.tasks)],
              [words.queue, waiting.nudges === null ? words.queueAway : words.queueHolds(waiting.nudges)],
              [words.newest, round ? <Age key="age" at={newestScan(round)} /> : words.unknown],
              [words.running, <Lasting key="since" since={startedAt} />],
              [
                words.chambers,
                round ? count(round.areas.reduce((sum, area) => sum + area.chambers.length, 0)) : words.unknown,
              ],
              [words.site, (site.example ? words.siteIsExample : words.siteIs)(site.name, site.timeZone)],
            ]}
          />
        )}
      </Answered>
    </Section>
  );
}
