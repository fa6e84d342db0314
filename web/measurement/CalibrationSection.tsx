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
import { words as all } from '../strings/calibration.ts';
import { ChangeForm } from './ChangeForm.tsx';
import { History } from './History.tsx';
import { MarkForm } from './MarkForm.tsx';
import { Proposals } from './Proposals.tsx';
import { RecomputeForm } from './RecomputeForm.tsx';
import { SuggestionPart } from './SuggestionForm.tsx';
import { TaskList } from './TaskList.tsx';
import { ValueForm } from './ValueForm.tsx';

const words = all.calibrationSection;

interface CalibrationSectionProps {
  readonly measured: AnalyserMeasurement;
  readonly question: UseQueryResult<CalibrationHistory>;
  readonly others: readonly string[];
}

const FORMS = [
  ['value', words.enterAValue],
  ['pattern', words.markScansAsPure],
  ['background', words.recordABackground],
  ['recompute', words.recomputeAPeriod],
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
            <p>{words.version}</p>
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
        <h2>{words.calibration}</h2>
        <SuggestionPart measured={measured} />
        <Answered question={question} what={words.theCalibrations} lines={4}>
          {({ entries, notes }) => (
            <>
              <Proposals entries={entries} />
              <Actions measured={measured} others={others} notes={notes ?? []} />
              <h3>{words.whatWasSetNewest}</h3>
              <History entries={entries} />
            </>
          )}
        </Answered>
      </Section>
      <Section className="sec last" margin={words.workedOutBesideWhat}>
        <h2>{words.askedFor}</h2>
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
          {words.changeBetweenTwoScans}
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
    return <p className="note">{words.youMayLookSetting}</p>;
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
