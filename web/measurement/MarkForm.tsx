import { type FormEvent, useState } from 'react';
import type { AnalyserMeasurement } from '../../shared/contract/measurement.ts';
import type { Note } from '../../shared/contract/readings.ts';
import { askFor } from '../api/measurementMoves.ts';
import { useZone } from '../frame/site.ts';
import { gasTitle } from '../notation/gas.ts';
import { fieldInstant, fieldValue } from '../notation/time.ts';
import { GasCaution, ValveCaution } from './Cautions.tsx';
import { Field } from './Field.tsx';
import { NoteField } from './NoteField.tsx';
import { ScanChoice } from './ScanChoice.tsx';
import { SendRow } from './SendRow.tsx';
import { useSending } from './useSending.ts';
import { instantOf, WhenField } from './WhenField.tsx';

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
  const backwards = from !== null && to !== null && to <= from ? 'The last scan must come after the first.' : null;
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
            ? { kind: 'background', source: 'closed valve', ...span }
            : { kind: 'background', source: 'second analyser', other, ...span },
      ),
    );
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && done()}>
      <h3>{what === 'pattern' ? 'Mark scans as one pure gas' : 'Record the analyser’s own gas'}</h3>
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
          label="First scan"
          value={period.typed.from}
          fault={period.typed.from === '' ? null : sending.faultOf('from')}
          set={(value) => period.set('from', value)}
        />
        <WhenField
          label="Last scan"
          value={period.typed.to}
          fault={backwards ?? sending.faultOf('to')}
          set={(value) => period.set('to', value)}
        />
        <NoteField value={note} fault={sending.faultOf('note')} set={setNote} label="What was done (needed)" />
      </div>
      {what === 'pattern' ? (
        <label className="check">
          <input type="checkbox" checked={fromGauge} onChange={(event) => setFromGauge(event.target.checked)} />
          take the amount from the gauge, with its factor for the gas
        </label>
      ) : null}
      <ScanChoice analyser={measured.analyser} from={from} to={to} choose={period.choose} />
      <p className="note">
        A worker proposes what these scans say. Nothing changes before an engineer puts it in force.
      </p>
      <SendRow
        sending={sending}
        ready={ready}
        word={what === 'pattern' ? 'Mark as pure gas' : 'Record as background'}
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
    <Field label="The only gas in these scans" fault={fault}>
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
    <Field label="How it was told from the chamber" fault={fault}>
      {(props) => (
        <select {...props} value={other} onChange={(event) => set(event.target.value)}>
          <option value="">the valve to the chamber was closed</option>
          {others.map((one) => (
            <option key={one} value={one}>
              against {one}, which is trusted
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}
