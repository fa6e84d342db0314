import { type FormEvent, useState } from 'react';
import { askFor } from '../api/measurementMoves.ts';
import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { fieldInstant, fieldValue } from '../notation/time.ts';
import { words as all } from '../strings/calibration.ts';
import { SendRow } from './SendRow.tsx';
import { useSending } from './useSending.ts';
import { instantOf, WhenField } from './WhenField.tsx';

const words = all.changeForm;

interface ChangeFormProps {
  readonly analyser: string;
  /** The newest scan. */
  readonly at: string | null;
  readonly done: () => void;
}

const DAY_MS = 86_400_000;

/** What has changed between two scans: surer than two absolute pressures, because what both share drops out. */
export function ChangeForm({ analyser, at, done }: ChangeFormProps) {
  const zone = useZone();
  const newest = at === null ? nowMs() : Date.parse(at);
  const [before, setBefore] = useState(() => fieldValue(newest - DAY_MS, zone));
  const [after, setAfter] = useState(() => fieldValue(newest, zone));
  const sending = useSending(done);
  const start = fieldInstant(before, zone);
  const end = fieldInstant(after, zone);
  const backwards = start !== null && end !== null && end <= start ? words.afterMustComeLater : null;
  const ready = start !== null && end !== null && backwards === null;
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (!ready || start === null || end === null) return;
    sending.run(() => askFor(analyser, { kind: 'change', before: instantOf(start), after: instantOf(end) }));
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && done()}>
      <h3>{words.changeBetweenTwoScans}</h3>
      <div className="two">
        <WhenField label={words.beforeTheLastScan} value={before} fault={sending.faultOf('before')} set={setBefore} />
        <WhenField
          label={words.afterTheFirstScan}
          value={after}
          fault={backwards ?? sending.faultOf('after')}
          set={setAfter}
        />
      </div>
      <p className="note">{words.theUncertaintyOfA}</p>
      <SendRow sending={sending} ready={ready} word={words.compareThem} cancel={done} />
    </form>
  );
}
