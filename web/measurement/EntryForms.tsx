import { type FormEvent, useState } from 'react';
import type { CalibrationEntry } from '../../shared/contract/calibration.ts';
import { Sending } from '../alerts/AcknowledgeForm.tsx';
import { enforceCalibration, withdrawCalibration } from '../api/measurementMoves.ts';
import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { fieldInstant, fieldValue } from '../notation/time.ts';
import { words as all } from '../strings/calibration.ts';
import { Refusal } from './Field.tsx';
import { NoteField } from './NoteField.tsx';
import { SendRow } from './SendRow.tsx';
import { useSending } from './useSending.ts';
import { instantOf, WhenField } from './WhenField.tsx';

const words = all.entryForms;

interface EntryFormProps {
  readonly entry: CalibrationEntry;
  readonly done: () => void;
}

export function EnforceForm({ entry, done }: EntryFormProps) {
  const zone = useZone();
  const [from, setFrom] = useState(() => fieldValue(nowMs(), zone));
  const [note, setNote] = useState('');
  const sending = useSending(done);
  const at = fieldInstant(from, zone);
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (at === null) return;
    sending.run(() => enforceCalibration(entry.analyser, entry.id, { validFrom: instantOf(at), note: note.trim() }));
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && done()}>
      <div className="two">
        <WhenField label={words.inForceFrom} value={from} fault={sending.faultOf('validFrom')} set={setFrom} />
        <NoteField value={note} fault={sending.faultOf('note')} set={setNote} label={words.whatYouLookedAt} />
      </div>
      <SendRow
        sending={sending}
        ready={at !== null && note.trim() !== ''}
        word={words.putInForce}
        busyWord={words.puttingInForce}
        cancel={done}
      />
    </form>
  );
}

export function WithdrawForm({ entry, done }: EntryFormProps) {
  const [note, setNote] = useState('');
  const sending = useSending(done);
  const send = (event: FormEvent) => {
    event.preventDefault();
    sending.run(() => withdrawCalibration(entry.analyser, entry.id, note.trim()));
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && done()}>
      <NoteField value={note} fault={sending.faultOf('note')} set={setNote} label={words.whyItIsWithdrawn} />
      <p className="note">{words.scansFromNowOn}</p>
      <div className="does">
        <button type="submit" disabled={note.trim() === '' || sending.busy}>
          {sending.busy ? <Sending word={words.withdrawing} /> : words.withdraw}
        </button>
        <button type="button" onClick={done}>
          {words.keepIt}
        </button>
      </div>
      <Refusal sending={sending} />
    </form>
  );
}
