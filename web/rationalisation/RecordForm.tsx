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
import { words } from '../strings/rationalisation.ts';
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
      <Section className="sec" margin={words.writingMargin}>
        <p className="say">{words.youMayReadThisRecord}</p>
        <p className="note">{words.anAdminCanGiveYou}</p>
      </Section>
    );
  }
  return (
    <Section
      className="sec"
      label={words.writeItAnew}
      margin={kind === '' ? words.forEveryKindWithout : words.forTheKindAlone(kind)}
    >
      <h2>{words.writeItAnew}</h2>
      <form className="do record-form" onSubmit={send}>
        <RecordFields
          typed={typed}
          set={(part) => setTyped({ ...typed, ...part })}
          faultOf={(field) => faults[field] ?? sending.faultOf(field === 'time' ? 'timeToRespondMinutes' : field)}
        />
        {kind === '' ? (
          <div className="over">
            <KindChoice kind={over} choose={setOver} label={words.rehearseOverTheChambers} none="choose" />
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
              ? words.chooseOverWhichKind
              : change === null
                ? words.somethingAboveIsNotRight
                : words.nothingIsChangedYet
          }
          id={rehearsal}
          show={show}
        />
        <NoteField label={words.whatWasChangedAndWhy} value={note} fault={sending.faultOf('note')} set={setNote} />
        <div className="does">
          <button
            type="submit"
            className="main"
            disabled={record === null || changes.length === 0 || note.trim() === '' || sending.busy}
          >
            {sending.busy ? <Sending word={words.saving} /> : words.saveTheNewVersion}
          </button>
          <button type="button" onClick={done}>
            {words.leaveIt}
          </button>
          <span className="note">
            {record === null
              ? words.somethingAboveIsNotRight
              : changes.length === 0
                ? words.nothingIsChangedYet
                : words.changes(changes.map(({ field }) => FIELD_TITLE[field].toLowerCase()).join(', '))}
          </span>
        </div>
        <Refusal sending={sending} />
      </form>
    </Section>
  );
}
