import { type FormEvent, useState } from 'react';
import type { CalibrationSource } from '../../shared/contract/calibration.ts';
import { setCalibration } from '../api/measurementMoves.ts';
import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { fieldInstant, fieldValue } from '../notation/time.ts';
import { words as all } from '../strings/calibration.ts';
import { ENTERED_KINDS, type EnteredKind, KIND_TITLE, KIND_UNIT, SOURCE_TITLE, SOURCES } from './calibrationWords.ts';
import { Field } from './Field.tsx';
import { NoteField } from './NoteField.tsx';
import { SendRow } from './SendRow.tsx';
import { typedNumber } from './typed.ts';
import { useSending } from './useSending.ts';
import { instantOf, WhenField } from './WhenField.tsx';

const words = all.valueForm;

interface ValueFormProps {
  readonly analyser: string;
  readonly done: () => void;
}

/** A factor of more than this is a slip of the pen, but the server decides. */
export const percentShare = (text: string): number | null | 'wrong' => {
  if (text.trim() === '') return null;
  const value = typedNumber(text);
  return value === null || value < 0 || value > 100 ? 'wrong' : value / 100;
};

/** What is wrong with a value before it is sent; null: nothing that can be seen from here. */
export function valueFault(kind: EnteredKind, text: string): string | null {
  const value = typedNumber(text);
  if (value === null) return words.aNumberSuchAs;
  return kind !== 'transmission' && value <= 0 ? words.aNumberAboveZero : null;
}

/** One number from a certificate, put in force from a set time. */
export function ValueForm({ analyser, done }: ValueFormProps) {
  const zone = useZone();
  const [kind, setKind] = useState<EnteredKind>('sensitivity');
  const [value, setValue] = useState('');
  const [percent, setPercent] = useState('');
  const [source, setSource] = useState<CalibrationSource>('certificate');
  const [from, setFrom] = useState(() => fieldValue(nowMs(), zone));
  const [note, setNote] = useState('');
  const sending = useSending(done);
  const at = fieldInstant(from, zone);
  const share = percentShare(percent);
  const wrong = value === '' ? null : valueFault(kind, value);
  const ready = value !== '' && wrong === null && at !== null && share !== 'wrong' && note.trim() !== '';
  const send = (event: FormEvent) => {
    event.preventDefault();
    const number = typedNumber(value);
    if (!ready || number === null || at === null) return;
    sending.run(() =>
      setCalibration(analyser, {
        kind,
        value: number,
        source,
        validFrom: instantOf(at),
        note: note.trim(),
        ...(share === null ? {} : { relativeUncertainty: share }),
      }),
    );
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && done()}>
      <h3>{words.enterAValue}</h3>
      <div className="two">
        <Field label={words.what} fault={sending.faultOf('kind')}>
          {(props) => (
            <select {...props} value={kind} onChange={(event) => setKind(event.target.value as EnteredKind)}>
              {ENTERED_KINDS.map((one) => (
                <option key={one} value={one}>
                  {KIND_TITLE[one]}
                </option>
              ))}
            </select>
          )}
        </Field>
        <Field
          label={words.value(KIND_UNIT[kind] === '' ? '' : `, ${KIND_UNIT[kind]}`)}
          fault={wrong ?? sending.faultOf('value')}
        >
          {(props) => (
            <input {...props} inputMode="decimal" value={value} onChange={(event) => setValue(event.target.value)} />
          )}
        </Field>
        <Field
          label={words.oneStandardDeviationIf}
          fault={share === 'wrong' ? words.from0To100 : sending.faultOf('relativeUncertainty')}
        >
          {(props) => (
            <input
              {...props}
              inputMode="decimal"
              value={percent}
              onChange={(event) => setPercent(event.target.value)}
            />
          )}
        </Field>
        <Field label={words.fromWhat} fault={sending.faultOf('source')}>
          {(props) => (
            <select {...props} value={source} onChange={(event) => setSource(event.target.value as CalibrationSource)}>
              {SOURCES.map((one) => (
                <option key={one} value={one}>
                  {SOURCE_TITLE[one]}
                </option>
              ))}
            </select>
          )}
        </Field>
        <WhenField label={words.inForceFrom} value={from} fault={sending.faultOf('validFrom')} set={setFrom} />
        <NoteField
          value={note}
          fault={sending.faultOf('note')}
          set={setNote}
          label={words.whyCertificateNumberNeeded}
        />
      </div>
      <p className="note">{words.scansThatComeAfter}</p>
      <SendRow sending={sending} ready={ready} word={words.putInForce} busyWord={words.puttingInForce} cancel={done} />
    </form>
  );
}
