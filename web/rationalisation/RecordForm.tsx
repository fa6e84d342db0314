import { type FormEvent, useState } from 'react';
import type { Rationalisation } from '../../shared/contract/rationalisation.ts';
import type { NewRehearsal } from '../../shared/contract/rehearsal.ts';
import { Sending } from '../alerts/AcknowledgeForm.tsx';
import { setRationalisation } from '../api/alarmMoves.ts';
import { Section } from '../frame/Section.tsx';
import { useMay } from '../frame/site.ts';
import { Refusal } from '../measurement/Field.tsx';
import { NoteField } from '../measurement/NoteField.tsx';
import { useSending } from '../measurement/useSending.ts';
import { REHEARSED_DAYS, RehearsalPanel } from '../rehearsal/RehearsalPanel.tsx';
import { KindChoice } from './KindChoice.tsx';
import { RecordFields } from './RecordFields.tsx';
import { changedFields, FIELD_TITLE } from './recordWords.ts';
import { faultsOf, recordFrom, type TypedRecord, typedFrom } from './typedRecord.ts';

interface RecordFormProps {
  /** The version that is looked at; what is saved is based on it. */
  readonly inForce: Rationalisation;
  readonly kind: string;
  readonly rehearsal: string;
  readonly show: (rehearsal: string) => void;
  readonly done: () => void;
}

/** A new version: typed, rehearsed on the past if wanted, and saved with a reason. */
export function RecordForm({ inForce, kind, rehearsal, show, done }: RecordFormProps) {
  const engineer = useMay('engineer');
  const [typed, setTyped] = useState<TypedRecord>(() => typedFrom(inForce.record));
  const [note, setNote] = useState('');
  const [over, setOver] = useState(kind);
  const sending = useSending(done, ['rationalisation']);
  const record = recordFrom(typed);
  const faults = faultsOf(typed);
  const changes = record === null ? [] : changedFields(inForce.record, record);
  const change: NewRehearsal['change'] | null =
    record === null ? null : { kind: 'rationalisation', signature: inForce.signature, record };
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (record === null || note.trim() === '') return;
    // A kind without a record of its own begins at the version that is shown for it.
    const basedOn = inForce.version;
    sending.run(() =>
      setRationalisation(inForce.signature, { kind: kind === '' ? null : kind, basedOn, record, note: note.trim() }),
    );
  };
  if (!engineer) {
    return (
      <Section className="sec" margin="write it anew">
        <p className="say">You may read this record; writing it anew needs the role engineer.</p>
        <p className="note">An admin can give you another role.</p>
      </Section>
    );
  }
  return (
    <Section
      className="sec"
      label="Write it anew"
      margin={kind === '' ? 'for every kind without a record of its own' : `for the kind ${kind} alone`}
    >
      <h2>Write it anew</h2>
      <form className="do record-form" onSubmit={send}>
        <RecordFields
          typed={typed}
          set={(part) => setTyped({ ...typed, ...part })}
          faultOf={(field) => faults[field] ?? sending.faultOf(field === 'time' ? 'timeToRespondMinutes' : field)}
        />
        {kind === '' ? (
          <div className="over">
            <KindChoice kind={over} choose={setOver} label="Rehearse over the chambers of the kind" none="choose" />
          </div>
        ) : null}
        <RehearsalPanel
          request={
            change === null || over === '' || changes.length === 0
              ? null
              : { chamberKind: over, days: REHEARSED_DAYS, change }
          }
          because={
            over === ''
              ? 'choose over which kind of chamber'
              : change === null
                ? 'something above is not right yet'
                : 'nothing is changed yet'
          }
          id={rehearsal}
          show={show}
        />
        <NoteField
          label="What was changed, and why (needed)"
          value={note}
          fault={sending.faultOf('note')}
          set={setNote}
        />
        <div className="does">
          <button
            type="submit"
            className="main"
            disabled={record === null || changes.length === 0 || note.trim() === '' || sending.busy}
          >
            {sending.busy ? <Sending word="Saving…" /> : 'Save the new version'}
          </button>
          <button type="button" onClick={done}>
            Leave it as it was
          </button>
          <span className="note">
            {record === null
              ? 'something above is not right yet'
              : changes.length === 0
                ? 'nothing is changed yet'
                : `changes: ${changes.map(({ field }) => FIELD_TITLE[field].toLowerCase()).join(', ')}`}
          </span>
        </div>
        <Refusal sending={sending} />
      </form>
    </Section>
  );
}
