import type { ReactNode } from 'react';
import { OPERATING_STATES, type OperatingState, PRIORITIES } from '../../shared/contract/words.ts';
import { Field } from '../measurement/Field.tsx';
import { PRIORITY_MEANING, PRIORITY_WORD, RESPONDER_MEANING, SEVERITY_MEANING } from '../notation/words.ts';
import { words } from '../strings/rationalisation.ts';

import { MatrixTable } from './MatrixTable.tsx';
import { SEVERITIES } from './matrix.ts';
import { FIELD_TITLE } from './recordWords.ts';
import { minutesOf, TIME_UNITS, type TimeUnit, type TypedRecord } from './typedRecord.ts';

interface RecordFieldsProps {
  readonly typed: TypedRecord;
  readonly set: (part: Partial<TypedRecord>) => void;
  readonly faultOf: (field: keyof TypedRecord) => string | null;
}

const TIME_WORD: Readonly<Record<TimeUnit, string>> = { min: 'minutes', h: 'hours', d: 'days' };
const RESPONDERS = ['operator', 'engineer'] as const;

export function RecordFields({ typed, set, faultOf }: RecordFieldsProps) {
  const parts = { typed, set, faultOf };
  return (
    <>
      <Lines {...parts} field="causes" rows={4} label={words.oneALine(FIELD_TITLE.causes)} />
      <Lines {...parts} field="responseSteps" rows={6} label={words.oneALine(FIELD_TITLE.responseSteps)} />
      <Lines {...parts} field="cautions" rows={4} label={words.oneALine(FIELD_TITLE.cautions)} />
      <Lines {...parts} field="consequence" rows={2} label={FIELD_TITLE.consequence} />
      <div className="two">
        <Choice
          {...parts}
          field="severity"
          options={SEVERITIES.map((word) => [word, `${word}: ${SEVERITY_MEANING[word]}`])}
        />
        <div className="timed">
          <Field label={FIELD_TITLE.timeToRespondMinutes} fault={faultOf('time')}>
            {(props) => (
              <input
                {...props}
                inputMode="decimal"
                value={typed.time}
                onChange={(event) => set({ time: event.target.value })}
              />
            )}
          </Field>
          <Field label={words.unitOfTime} fault={null}>
            {(props) => (
              <select
                {...props}
                value={typed.timeUnit}
                onChange={(event) => set({ timeUnit: event.target.value as TimeUnit })}
              >
                {TIME_UNITS.map((unit) => (
                  <option key={unit} value={unit}>
                    {TIME_WORD[unit]}
                  </option>
                ))}
              </select>
            )}
          </Field>
        </div>
        <Choice
          {...parts}
          field="priority"
          options={PRIORITIES.map((word) => [word, `${PRIORITY_WORD[word]}: ${PRIORITY_MEANING[word]}`])}
        />
        <Choice
          {...parts}
          field="responder"
          options={RESPONDERS.map((word) => [word, `${word}: ${RESPONDER_MEANING[word]}`])}
        />
      </div>
      <MatrixTable severity={typed.severity} minutes={minutesOf(typed)} chosen={typed.priority} />
      <Lines {...parts} field="basis" rows={3} label={FIELD_TITLE.basis} />
      <States {...parts} />
      <div className="two">
        <Line {...parts} field="leastDecades" label={words.deadBandDecades} hint={words.emptyOnlyWider} />
        <Line {...parts} field="onDelayScans" label={words.onDelayScans} hint={words.emptyOnlyLonger} />
        <Line {...parts} field="reAlarmHours" label={words.asksAgainAfterHours} hint={words.emptyNever} />
        <Line {...parts} field="owner" label={FIELD_TITLE.owner} hint={words.whoAnswersForThisRecord} />
      </div>
      <label className="check">
        <input type="checkbox" checked={typed.latching} onChange={(event) => set({ latching: event.target.checked })} />
        {words.latchingItStays}
      </label>
    </>
  );
}

type TextField = {
  [K in keyof TypedRecord]: TypedRecord[K] extends string ? (string extends TypedRecord[K] ? K : never) : never;
}[keyof TypedRecord];

interface LinesProps extends RecordFieldsProps {
  readonly field: TextField;
  readonly rows: number;
  readonly label: string;
}

function Lines({ typed, set, faultOf, field, rows, label }: LinesProps) {
  return (
    <Field label={label} fault={faultOf(field)}>
      {(props) => (
        <textarea
          {...props}
          className="prose"
          rows={rows}
          value={typed[field]}
          onChange={(event) => set({ [field]: event.target.value })}
        />
      )}
    </Field>
  );
}

interface LineProps extends RecordFieldsProps {
  readonly field: TextField;
  readonly label: string;
  readonly hint: string;
}

function Line({ typed, set, faultOf, field, label, hint }: LineProps) {
  return (
    <Field label={label} fault={faultOf(field)}>
      {(props) => (
        <input
          {...props}
          placeholder={hint}
          value={typed[field]}
          onChange={(event) => set({ [field]: event.target.value })}
        />
      )}
    </Field>
  );
}

interface ChoiceProps extends RecordFieldsProps {
  readonly field: 'severity' | 'priority' | 'responder';
  readonly options: readonly (readonly [string, ReactNode])[];
}

function Choice({ typed, set, faultOf, field, options }: ChoiceProps) {
  return (
    <Field label={FIELD_TITLE[field]} fault={faultOf(field)}>
      {(props) => (
        <select
          {...props}
          value={typed[field]}
          onChange={(event) => set({ [field]: event.target.value } as Partial<TypedRecord>)}
        >
          {options.map(([value, spoken]) => (
            <option key={value} value={value}>
              {spoken}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}

function States({ typed, set, faultOf }: RecordFieldsProps) {
  const toggle = (state: OperatingState, on: boolean) =>
    set({ armedStates: OPERATING_STATES.filter((word) => (word === state ? on : typed.armedStates.includes(word))) });
  const fault = faultOf('armedStates');
  return (
    <fieldset className="states">
      <legend className="note">{words.armedIn(FIELD_TITLE.armedStates)}</legend>
      {OPERATING_STATES.map((state) => (
        <label key={state} className="check">
          <input
            type="checkbox"
            checked={typed.armedStates.includes(state)}
            onChange={(event) => toggle(state, event.target.checked)}
          />
          {state}
        </label>
      ))}
      {fault === null ? null : <p className="fault">{fault}</p>}
    </fieldset>
  );
}
