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
  if (!engineer) return <p className="note">Choosing a period to learn from needs the role engineer.</p>;
  return open ? (
    <TheForm analyser={analyser} first={isState(state) ? state : 'base'} done={() => setOpen(false)} />
  ) : (
    <div className="does">
      <button type="button" onClick={() => setOpen(true)}>
        Learn from a chosen period
      </button>
      <span className="note">it is proposed first; nothing changes until it is put in force</span>
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
  const backwards = start !== null && end !== null && end <= start ? 'The end must come after the start.' : null;
  const isReady = start !== null && end !== null && backwards === null && note.trim() !== '';
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (!isReady || start === null || end === null) return;
    sending.run(() => proposePin(analyser, { state, from: instantOf(start), to: instantOf(end), note: note.trim() }));
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && done()}>
      <h3>Learn from a chosen period</h3>
      <p className="note">
        Choose a time in which the chamber was as it should be: dry, tight, nothing burning in. Scans of other states
        and scans with a fault are left out.
      </p>
      <div className="two">
        <Field label="Operating state" fault={sending.faultOf('state')}>
          {(props) => (
            <select {...props} value={state} onChange={(event) => setState(event.target.value as OperatingState)}>
              {OPERATING_STATES.map((word) => (
                <option key={word}>{word}</option>
              ))}
            </select>
          )}
        </Field>
        <WhenField label="From" value={from} fault={sending.faultOf('from')} set={setFrom} />
        <WhenField label="To" value={to} fault={backwards ?? sending.faultOf('to')} set={setTo} />
        <NoteField label="Why this period (needed)" value={note} fault={sending.faultOf('note')} set={setNote} />
      </div>
      <SendRow sending={sending} ready={isReady} word="Propose it" cancel={done} />
    </form>
  );
}
