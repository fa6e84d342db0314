import { type FormEvent, useState } from 'react';
import { askFor } from '../api/measurementMoves.ts';
import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { fieldInstant, fieldValue } from '../notation/time.ts';
import { words as all } from '../strings/calibration.ts';
import { NoteField } from './NoteField.tsx';
import { SendRow } from './SendRow.tsx';
import { useSending } from './useSending.ts';
import { instantOf, WhenField } from './WhenField.tsx';

const words = all.recomputeForm;

interface RecomputeFormProps {
  readonly analyser: string;
  readonly done: () => void;
}

const DAY_MS = 86_400_000;

/** A period again, with the calibration of another day: a series of its own, beside what was judged. */
export function RecomputeForm({ analyser, done }: RecomputeFormProps) {
  const zone = useZone();
  const [from, setFrom] = useState(() => fieldValue(nowMs() - DAY_MS, zone));
  const [to, setTo] = useState(() => fieldValue(nowMs(), zone));
  const [another, setAnother] = useState(true);
  const [of, setOf] = useState(() => fieldValue(nowMs(), zone));
  const [note, setNote] = useState('');
  const sending = useSending(done);
  const start = fieldInstant(from, zone);
  const end = fieldInstant(to, zone);
  const day = fieldInstant(of, zone);
  const backwards = start !== null && end !== null && end <= start ? words.theEndMustCome : null;
  const ready =
    start !== null && end !== null && backwards === null && (!another || day !== null) && note.trim() !== '';
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (!ready || start === null || end === null) return;
    sending.run(() =>
      askFor(analyser, {
        kind: 'recomputation',
        from: instantOf(start),
        to: instantOf(end),
        note: note.trim(),
        ...(another && day !== null ? { calibrationOf: instantOf(day) } : {}),
      }),
    );
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && done()}>
      <h3>{words.recomputeAPeriod}</h3>
      <div className="two">
        <WhenField label={words.from} value={from} fault={sending.faultOf('from')} set={setFrom} />
        <WhenField label={words.to} value={to} fault={backwards ?? sending.faultOf('to')} set={setTo} />
      </div>
      <fieldset>
        <legend className="note">{words.withWhichCalibration}</legend>
        <label className="check">
          <input type="radio" name="calibration" checked={another} onChange={() => setAnother(true)} />
          {words.allWithTheOne}
        </label>
        <label className="check">
          <input type="radio" name="calibration" checked={!another} onChange={() => setAnother(false)} />
          {words.eachScanWithThat}
        </label>
      </fieldset>
      <div className="two">
        {another ? (
          <WhenField label={words.calibrationAsItIs} value={of} fault={sending.faultOf('calibrationOf')} set={setOf} />
        ) : null}
        <NoteField value={note} fault={sending.faultOf('note')} set={setNote} />
      </div>
      <p className="note">{words.whatWasJudgedStays}</p>
      <SendRow sending={sending} ready={ready} word={words.recompute} cancel={done} />
    </form>
  );
}
