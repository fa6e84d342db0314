import { type FormEvent, useState } from 'react';
import { OPERATING_STATES, type OperatingState } from '../../shared/contract/words.ts';
import { proposePin } from '../api/alarmMoves.ts';
import { nowMs } from '../frame/clock.ts';
import { useMay, useZone } from '../frame/site.ts';
import { Field } from '../measurement/Field.tsx';
import { NoteField } from '../measurement/NoteField.tsx';
import { SendRow } from '../measurement/SendRow.tsx';
import { useSending } from '../measurement/useSending.ts';
import { instantOf, WhenField } from '../measurement/WhenField.tsx';
import { fieldInstant, fieldValue } from '../notation/time.ts';
import { words as all } from '../strings/usual.ts';

const words = all.pinForm;

const DAY_MS = 86_400_000;

interface PinFormProps {
  readonly analyser: string;
  /** The state that the chamber is in: the one that is meant most often. */
  readonly state: string | null;
}

const isState = (word: string | null): word is OperatingState =>
  word !== null && (OPERATING_STATES as readonly string[]).includes(word);

/** A period that was good, by the judgement of an engineer: a worker learns from it and proposes. */
export function PinForm({ analyser, state }: PinFormProps) {
  const [open, setOpen] = useState(false);
  const engineer = useMay('engineer');
  if (!engineer) return <p className="note">{words.choosingAPeriodTo}</p>;
  return open ? (
    <TheForm analyser={analyser} first={isState(state) ? state : 'base'} done={() => setOpen(false)} />
  ) : (
    <div className="does">
      <button type="button" onClick={() => setOpen(true)}>
        {words.learnFromAChosen}
      </button>
      <span className="note">{words.itIsProposedFirst}</span>
    </div>
  );
}

interface TheFormProps {
  readonly analyser: string;
  readonly first: OperatingState;
  readonly done: () => void;
}

function TheForm({ analyser, first, done }: TheFormProps) {
  const zone = useZone();
  const [state, setState] = useState<OperatingState>(first);
  const [from, setFrom] = useState(() => fieldValue(nowMs() - DAY_MS, zone));
  const [to, setTo] = useState(() => fieldValue(nowMs(), zone));
  const [note, setNote] = useState('');
  const sending = useSending(done, ['pins']);
  const start = fieldInstant(from, zone);
  const end = fieldInstant(to, zone);
  const backwards = start !== null && end !== null && end <= start ? words.theEndMustCome : null;
  const isReady = start !== null && end !== null && backwards === null && note.trim() !== '';
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (!isReady || start === null || end === null) return;
    sending.run(() => proposePin(analyser, { state, from: instantOf(start), to: instantOf(end), note: note.trim() }));
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && done()}>
      <h3>{words.learnFromAChosen}</h3>
      <p className="note">{words.chooseATimeIn}</p>
      <div className="two">
        <Field label={words.operatingState} fault={sending.faultOf('state')}>
          {(props) => (
            <select {...props} value={state} onChange={(event) => setState(event.target.value as OperatingState)}>
              {OPERATING_STATES.map((word) => (
                <option key={word}>{word}</option>
              ))}
            </select>
          )}
        </Field>
        <WhenField label={words.from} value={from} fault={sending.faultOf('from')} set={setFrom} />
        <WhenField label={words.to} value={to} fault={backwards ?? sending.faultOf('to')} set={setTo} />
        <NoteField label={words.whyThisPeriodNeeded} value={note} fault={sending.faultOf('note')} set={setNote} />
      </div>
      <SendRow sending={sending} ready={isReady} word={words.proposeIt} cancel={done} />
    </form>
  );
}
