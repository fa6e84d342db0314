import { useQuery } from '@tanstack/react-query';
import type { FleetDocument } from '../../shared/contract/fleet.ts';
import { fleetQuestion } from '../api/questions.ts';
import { Answered } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { useMay } from '../frame/site.ts';
import { useTitle } from '../frame/title.ts';
import { several } from '../notation/sentence.ts';
import { FIRST_DOCUMENT } from './curl.ts';
import { DocumentForm } from './DocumentForm.tsx';
import { PeopleSection } from './PeopleSection.tsx';
import { TokensSection } from './TokensSection.tsx';

const sentence = (fleet: FleetDocument): string =>
  fleet.chambers.length === 0
    ? 'No chamber is in the fleet yet. Write a document and apply it.'
    : `The fleet holds ${several(fleet.chambers.length, 'chamber')} in ${several(fleet.areas.length, 'area')}, ` +
      `watched by ${several(fleet.analysers.length, 'analyser')}.`;

export function FleetPage() {
  useTitle('Fleet');
  const admin = useMay('admin');
  const question = useQuery(fleetQuestion);
  return (
    <>
      <Head margin="Fleet">
        <h1 className="verdict">{question.data ? sentence(question.data) : 'The fleet and who may send for it.'}</h1>
        <p className="facts">
          <span>
            One document says what is watched. Applying it twice changes nothing; what it leaves out is retired.
          </span>
        </p>
      </Head>
      <Section className="sec" margin="areas, chambers, analysers">
        <h2>Document</h2>
        <Answered question={question} what="The fleet">
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
          <h2>Tokens and people</h2>
          <p className="note">You may look at the fleet. Tokens and people need the role admin; ask one.</p>
        </Section>
      )}
    </>
  );
}
