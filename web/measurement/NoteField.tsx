import { Field } from './Field.tsx';

interface NoteFieldProps {
  readonly label?: string;
  readonly value: string;
  readonly fault: string | null;
  readonly set: (value: string) => void;
}

/** Why: needed, because a calibration without a reason cannot be judged later. */
export function NoteField({ label = 'Why (needed)', value, fault, set }: NoteFieldProps) {
  return (
    <Field label={label} fault={fault}>
      {(props) => (
        <input {...props} value={value} maxLength={2000} required onChange={(event) => set(event.target.value)} />
      )}
    </Field>
  );
}
