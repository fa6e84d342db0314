import { type FormEvent, useState } from 'react';
import { Sending } from '../alerts/AcknowledgeForm.tsx';
import { setDetectionMultiple } from '../api/measurementMoves.ts';
import { useMay } from '../frame/site.ts';
import { brief } from '../notation/number.ts';
import { words as all } from '../strings/measurementList.ts';
import { Field, Refusal } from './Field.tsx';
import { typedNumber } from './typed.ts';
import { useSending } from './useSending.ts';

const words = all.detectionMultiple;

export const LEAST_MULTIPLE = 1;
export const MOST_MULTIPLE = 10;

/** The multiple of σ that counts as seen: shown to all, changed by engineers. */
export function DetectionMultiple({ multiple }: { readonly multiple: number }) {
  const engineer = useMay('engineer');
  const [editing, setEditing] = useState(false);
  return (
    <>
      <p className="say">{words.whatStandsStandardDeviations(brief(multiple))}</p>
      {editing ? <MultipleForm multiple={multiple} done={() => setEditing(false)} /> : null}
      {engineer && !editing ? (
        <div className="does">
          <button type="button" onClick={() => setEditing(true)}>
            {words.changeTheMultiple}
          </button>
        </div>
      ) : null}
      {engineer ? null : <p className="note">{words.changingTheMultipleNeeds}</p>}
    </>
  );
}

function MultipleForm({ multiple, done }: { readonly multiple: number; readonly done: () => void }) {
  const [text, setText] = useState(String(multiple));
  const sending = useSending(done);
  const value = typedNumber(text);
  const fault =
    value === null || value < LEAST_MULTIPLE || value > MOST_MULTIPLE
      ? words.aNumberFromTo(LEAST_MULTIPLE, MOST_MULTIPLE)
      : null;
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (fault === null && value !== null) sending.run(() => setDetectionMultiple(value));
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && done()}>
      <Field label={words.multipleOf} fault={fault ?? sending.faultOf('detectionMultiple')}>
        {(props) => (
          <input {...props} inputMode="decimal" value={text} onChange={(event) => setText(event.target.value)} />
        )}
      </Field>
      <p className="note">{words.itScalesTheFloors}</p>
      <div className="does">
        <button type="submit" disabled={fault !== null || sending.busy}>
          {sending.busy ? <Sending word={words.saving} /> : words.save}
        </button>
        <button type="button" onClick={done}>
          {words.leaveAsItWas}
        </button>
      </div>
      <Refusal sending={sending} />
    </form>
  );
}
