import type { UseQueryResult } from '@tanstack/react-query';
import { useState } from 'react';
import type { AnalyserMeasurement } from '../../shared/contract/measurement.ts';
import type { Note } from '../../shared/contract/readings.ts';
import type { CalibrationHistory } from '../api/measurementQuestions.ts';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useMay } from '../frame/site.ts';
import { scientific } from '../notation/number.ts';
import { NBSP } from '../notation/pressure.ts';
import { ChangeForm } from './ChangeForm.tsx';
import { History } from './History.tsx';
import { MarkForm } from './MarkForm.tsx';
import { Proposals } from './Proposals.tsx';
import { RecomputeForm } from './RecomputeForm.tsx';
import { SuggestionPart } from './SuggestionForm.tsx';
import { TaskList } from './TaskList.tsx';
import { ValueForm } from './ValueForm.tsx';

interface CalibrationSectionProps {
  readonly measured: AnalyserMeasurement;
  readonly question: UseQueryResult<CalibrationHistory>;
  readonly others: readonly string[];
}

const FORMS = [
  ['value', 'Enter a value'],
  ['pattern', 'Mark scans as pure gas'],
  ['background', 'Record a background'],
  ['recompute', 'Recompute a period'],
] as const;
type Form = (typeof FORMS)[number][0];

export function CalibrationSection({ measured, question, others }: CalibrationSectionProps) {
  const { version, sensitivityAmperesPerPascal } = measured.calibration;
  return (
    <>
      <Section
        className="sec"
        margin={
          <>
            <p>version</p>
            <p className="code ids">{version}</p>
            {sensitivityAmperesPerPascal === null ? null : (
              <p>
                {scientific(sensitivityAmperesPerPascal, 3)}
                {NBSP}A/Pa
              </p>
            )}
          </>
        }
      >
        <h2>Calibration</h2>
        <SuggestionPart measured={measured} />
        <Answered question={question} what="The calibrations" lines={4}>
          {({ entries, notes }) => (
            <>
              <Proposals entries={entries} />
              <Actions measured={measured} others={others} notes={notes ?? []} />
              <h3>What was set, newest first</h3>
              <History entries={entries} />
            </>
          )}
        </Answered>
      </Section>
      <Section className="sec last" margin="worked out beside what was judged, never instead of it">
        <h2>Asked for</h2>
        <Changes measured={measured} />
        <TaskList analyser={measured.analyser} chamber={measured.chamber} />
      </Section>
    </>
  );
}

/** Looking is for everyone. */
function Changes({ measured }: { readonly measured: AnalyserMeasurement }) {
  const [open, setOpen] = useState(false);
  return (
    <>
      <div className="does">
        <button type="button" aria-expanded={open} onClick={() => setOpen(!open)}>
          Change between two scans
        </button>
      </div>
      {open ? <ChangeForm analyser={measured.analyser} at={measured.at} done={() => setOpen(false)} /> : null}
    </>
  );
}

interface ActionsProps extends Pick<CalibrationSectionProps, 'measured' | 'others'> {
  readonly notes: readonly Note[];
}

function Actions({ measured, others, notes }: ActionsProps) {
  const engineer = useMay('engineer');
  const [form, setForm] = useState<Form | null>(null);
  const close = () => setForm(null);
  if (!engineer) {
    return (
      <p className="note">
        You may look. Setting a calibration, marking scans and recomputing need the role engineer; an admin can give it.
      </p>
    );
  }
  return (
    <>
      <div className="does">
        {FORMS.map(([name, text]) => (
          <button
            key={name}
            type="button"
            aria-expanded={form === name}
            onClick={() => setForm(form === name ? null : name)}
          >
            {text}
          </button>
        ))}
      </div>
      {form === 'value' ? <ValueForm analyser={measured.analyser} done={close} /> : null}
      {form === 'pattern' || form === 'background' ? (
        <MarkForm key={form} measured={measured} what={form} others={others} notes={notes} done={close} />
      ) : null}
      {form === 'recompute' ? <RecomputeForm analyser={measured.analyser} done={close} /> : null}
    </>
  );
}
