import { useQuery } from '@tanstack/react-query';
import type { FleetDocument } from '../../shared/contract/fleet.ts';
import { fleetQuestion } from '../api/questions.ts';
import { Answered } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { useMay } from '../frame/site.ts';
import { useTitle } from '../frame/title.ts';
import { words } from '../strings/fleet.ts';
import { FIRST_DOCUMENT } from './curl.ts';
import { DocumentForm } from './DocumentForm.tsx';
import { PeopleSection } from './PeopleSection.tsx';
import { TokensSection } from './TokensSection.tsx';

const sentence = (fleet: FleetDocument): string =>
  fleet.chambers.length === 0
    ? words.emptyFleet
    : words.holds(fleet.chambers.length, fleet.areas.length, fleet.analysers.length);

export function FleetPage() {
  useTitle(words.title);
  const admin = useMay('admin');
  const question = useQuery(fleetQuestion);
  return (
    <>
      <Head margin={words.headMargin}>
        <h1 className="verdict">{question.data ? sentence(question.data) : words.unknownFleet}</h1>
        <p className="facts">
          <span>{words.howItWorks}</span>
        </p>
      </Head>
      <Section className="sec" margin={words.documentMargin}>
        <h2>{words.document}</h2>
        <Answered question={question} what={words.theFleet}>
          {(fleet) => (
            <DocumentForm
              initial={fleet.chambers.length === 0 ? FIRST_DOCUMENT : JSON.stringify(fleet, null, 2)}
              mayApply={admin}
            />
          )}
        </Answered>
      </Section>
      {admin ? (
        <>
          <TokensSection analysers={question.data?.analysers.map(({ id }) => id) ?? []} />
          <PeopleSection />
        </>
      ) : (
        <Section className="sec last">
          <h2>{words.tokensAndPeople}</h2>
          <p className="note">{words.mayLook}</p>
        </Section>
      )}
    </>
  );
}
