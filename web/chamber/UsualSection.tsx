import { useQuery } from '@tanstack/react-query';
import { pinsQuestion } from '../api/alarmQuestions.ts';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { words } from '../strings/chamber.ts';
import { PinForm } from '../usual/PinForm.tsx';
import { PinHistory } from '../usual/PinHistory.tsx';
import { ProposedPins } from '../usual/ProposedPins.tsx';
import { UsualTable } from '../usual/UsualTable.tsx';
import type { ChamberParts } from './parts.ts';

type UsualSectionProps = Pick<ChamberParts, 'chamber' | 'address' | 'change'>;

/** What the watch holds for usual: learned by itself, or from a period that an engineer chose. */
export function UsualSection({ chamber, address, change }: UsualSectionProps) {
  const analysers = chamber.analysersDetail.map(({ id }) => id);
  return (
    <Section className="sec last" label={words.whatIsUsual} margin={words.learnedByItselfFromQuiet}>
      <h2>{words.whatIsUsual}</h2>
      {analysers.length === 0 ? (
        <p className="note">{words.thisChamberHasNoAnalyser}</p>
      ) : (
        analysers.map((analyser) => (
          <OneAnalyser
            key={analyser}
            analyser={analyser}
            named={analysers.length > 1}
            state={chamber.state}
            rehearsal={address.pinned}
            show={(pinned) => change({ pinned }, 'replace')}
          />
        ))
      )}
    </Section>
  );
}

interface OneAnalyserProps {
  readonly analyser: string;
  readonly named: boolean;
  readonly state: string | null;
  readonly rehearsal: string;
  readonly show: (id: string) => void;
}

function OneAnalyser({ analyser, named, state, rehearsal, show }: OneAnalyserProps) {
  const question = useQuery(pinsQuestion(analyser));
  return (
    <div className="usual">
      {named ? <h3>{analyser}</h3> : null}
      <Answered question={question} what={words.whatIsUsual} lines={3}>
        {({ pins, usual }) => (
          <>
            <UsualTable usual={usual} pins={pins} />
            <ProposedPins pins={pins} usual={usual} rehearsal={rehearsal} show={show} />
            <PinForm analyser={analyser} state={state} />
            <PinHistory pins={pins} />
          </>
        )}
      </Answered>
    </div>
  );
}
