import { type FormEvent, useState } from 'react';
import type { Pin } from '../../shared/contract/rehearsal.ts';
import { decidePin } from '../api/alarmMoves.ts';
import { NoteField } from '../measurement/NoteField.tsx';
import { SendRow } from '../measurement/SendRow.tsx';
import { useSending } from '../measurement/useSending.ts';
import { words as all } from '../strings/usual.ts';

const words = all.decideForm;

interface DecideFormProps {
  readonly pin: Pin;
  readonly move: 'enforce' | 'withdraw';
  readonly done: () => void;
}

/** The decision about a proposal, with its reason; it is kept with the version. */
export function DecideForm({ pin, move, done }: DecideFormProps) {
  const [note, setNote] = useState('');
  const sending = useSending(done, ['pins', 'chamber']);
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (note.trim() !== '') sending.run(() => decidePin(pin.analyser, pin.id, move, note.trim()));
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && done()}>
      <p className="note">{move === 'enforce' ? words.fromTheNextScan(pin.operatingState) : words.itStaysInThe}</p>
      <NoteField value={note} fault={sending.faultOf('note')} set={setNote} />
      <SendRow
        sending={sending}
        ready={note.trim() !== ''}
        word={move === 'enforce' ? words.putItInForce : words.withdrawIt}
        cancel={done}
      />
    </form>
  );
}
