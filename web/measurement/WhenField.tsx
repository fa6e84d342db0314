import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { fieldInstant, offsetText } from '../notation/time.ts';
import { words as all } from '../strings/calibration.ts';
import { Field } from './Field.tsx';

const words = all.whenField;

interface WhenFieldProps {
  readonly label: string;
  readonly value: string;
  readonly fault: string | null;
  readonly set: (value: string) => void;
}

/** A date and a time on the reader's clock. */
export function WhenField({ label, value, fault, set }: WhenFieldProps) {
  const zone = useZone();
  const at = fieldInstant(value, zone);
  const wrong = at === null && value !== '' ? words.aDateAndA : null;
  return (
    <Field label={`${label} (${offsetText(at ?? nowMs(), zone)})`} fault={wrong ?? fault}>
      {(props) => (
        <input
          {...props}
          className="when"
          inputMode="numeric"
          placeholder="2026-11-27 14:00"
          value={value}
          onChange={(event) => set(event.target.value)}
        />
      )}
    </Field>
  );
}

/** An instant for the server, out of a field that has been looked at. */
export const instantOf = (at: number): string => new Date(at).toISOString();
