import { type FormEvent, useState } from 'react';
import type { AnalyserMeasurement } from '../../shared/contract/measurement.ts';
import type { Note } from '../../shared/contract/readings.ts';
import { askFor } from '../api/measurementMoves.ts';
import { useZone } from '../frame/site.ts';
import { gasTitle } from '../notation/gas.ts';
import { fieldInstant, fieldValue } from '../notation/time.ts';
import { words as all } from '../strings/calibration.ts';
import { GasCaution, ValveCaution } from './Cautions.tsx';
import { AGAINST_ANOTHER, BEHIND_VALVE } from './calibrationWords.ts';
import { Field } from './Field.tsx';
import { NoteField } from './NoteField.tsx';
import { ScanChoice } from './ScanChoice.tsx';
import { SendRow } from './SendRow.tsx';
import { useSending } from './useSending.ts';
import { instantOf, WhenField } from './WhenField.tsx';

const words = all.markForm;

interface MarkFormProps {
  readonly measured: AnalyserMeasurement;
  readonly what: 'pattern' | 'background';
  /** Other analysers of the chamber, which a background may be taken against. */
  readonly others: readonly string[];
  /** Cautions that the server gives with the history. */
  readonly notes: readonly Note[];
  readonly done: () => void;
}

const MINUTE_MS = 60_000;

/** The period as typed; whole minutes, so the last scan's minute is taken to its end. */
function usePeriod() {
  const zone = useZone();
  const [typed, setTyped] = useState({ from: '', to: '' });
  return {
    typed,
    from: fieldInstant(typed.from, zone),
    to: fieldInstant(typed.to, zone),
    set: (end: 'from' | 'to', value: string) => setTyped((before) => ({ ...before, [end]: value })),
    choose: (end: 'from' | 'to', at: number) =>
      setTyped((before) => ({ ...before, [end]: fieldValue(end === 'from' ? at : at + MINUTE_MS - 1, zone) })),
  };
}

const CAUTION_CODE = { pattern: 'caution-dose', background: 'caution-closed-valve' } as const;

/** Scans of a period are marked: as one pure gas, or as the analyser alone. A worker then works out what they say. */
export function MarkForm({ measured, what, others, notes, done }: MarkFormProps) {
  const period = usePeriod();
  const [gas, setGas] = useState(measured.floors[0]?.gas ?? 'N2');
  const [fromGauge, setFromGauge] = useState(true);
  const [other, setOther] = useState('');
  const [note, setNote] = useState('');
  const sending = useSending(done);
  const { from, to } = period;
  const backwards = from !== null && to !== null && to <= from ? words.theLastScanMust : null;
  const ready = from !== null && to !== null && backwards === null && note.trim() !== '';
  const own = notes.filter(({ code }) => code === CAUTION_CODE[what]).map(({ text }) => text);
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (!ready || from === null || to === null) return;
    const span = { from: instantOf(from), to: instantOf(to), note: note.trim() };
    sending.run(() =>
      askFor(
        measured.analyser,
        what === 'pattern'
          ? { kind: 'pattern', gas, amountFromGauge: fromGauge, ...span }
          : other === ''
            ? { kind: 'background', source: BEHIND_VALVE, ...span }
            : { kind: 'background', source: AGAINST_ANOTHER, other, ...span },
      ),
    );
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && done()}>
      <h3>{what === 'pattern' ? words.markScansAsOne : words.recordTheAnalyserS}</h3>
      {what === 'pattern' ? <GasCaution own={own} /> : <ValveCaution own={own} />}
      <div className="two">
        {what === 'pattern' ? (
          <GasField
            gases={measured.floors.map((line) => line.gas)}
            gas={gas}
            set={setGas}
            fault={sending.faultOf('gas')}
          />
        ) : (
          <SourceField
            others={others}
            other={other}
            set={setOther}
            fault={sending.faultOf('source') ?? sending.faultOf('other')}
          />
        )}
        <WhenField
          label={words.firstScan}
          value={period.typed.from}
          fault={period.typed.from === '' ? null : sending.faultOf('from')}
          set={(value) => period.set('from', value)}
        />
        <WhenField
          label={words.lastScan}
          value={period.typed.to}
          fault={backwards ?? sending.faultOf('to')}
          set={(value) => period.set('to', value)}
        />
        <NoteField value={note} fault={sending.faultOf('note')} set={setNote} label={words.whatWasDoneNeeded} />
      </div>
      {what === 'pattern' ? (
        <label className="check">
          <input type="checkbox" checked={fromGauge} onChange={(event) => setFromGauge(event.target.checked)} />
          {words.takeTheAmountFrom}
        </label>
      ) : null}
      <ScanChoice analyser={measured.analyser} from={from} to={to} choose={period.choose} />
      <p className="note">{words.aWorkerProposesWhat}</p>
      <SendRow
        sending={sending}
        ready={ready}
        word={what === 'pattern' ? words.markAsPureGas : words.recordAsBackground}
        cancel={done}
      />
    </form>
  );
}

interface GasFieldProps {
  readonly gases: readonly string[];
  readonly gas: string;
  readonly set: (gas: string) => void;
  readonly fault: string | null;
}

function GasField({ gases, gas, set, fault }: GasFieldProps) {
  return (
    <Field label={words.theOnlyGasIn} fault={fault}>
      {(props) => (
        <select {...props} value={gas} onChange={(event) => set(event.target.value)}>
          {gases.map((one) => (
            <option key={one} value={one}>
              {gasTitle(one)}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}

interface SourceFieldProps {
  readonly others: readonly string[];
  readonly other: string;
  readonly set: (other: string) => void;
  readonly fault: string | null;
}

function SourceField({ others, other, set, fault }: SourceFieldProps) {
  return (
    <Field label={words.howItWasTold} fault={fault}>
      {(props) => (
        <select {...props} value={other} onChange={(event) => set(event.target.value)}>
          <option value="">{words.theValveToThe}</option>
          {others.map((one) => (
            <option key={one} value={one}>
              {words.againstWhichIsTrusted(one)}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}
