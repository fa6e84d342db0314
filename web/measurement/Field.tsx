import { type ReactNode, useId } from 'react';
import { Refused } from '../alerts/AcknowledgeForm.tsx';
import { words as all } from '../strings/calibration.ts';
import type { SendingState } from './useSending.ts';

const words = all.field;

interface FieldProps {
  readonly label: ReactNode;
  /** What is wrong with it, by us or by the server; null: nothing. */
  readonly fault: string | null;
  readonly children: (props: FieldControl) => ReactNode;
}

interface FieldControl {
  readonly id: string;
  readonly 'aria-invalid': boolean | undefined;
  readonly 'aria-describedby': string | undefined;
}

/** A field with its name over it and what is wrong with it under it. */
export function Field({ label, fault, children }: FieldProps) {
  const id = useId();
  const faultId = `${id}-fault`;
  return (
    <div className="field-of">
      <label htmlFor={id}>{label}</label>
      {children({
        id,
        'aria-invalid': fault === null ? undefined : true,
        'aria-describedby': fault === null ? undefined : faultId,
      })}
      {fault === null ? null : (
        <p className="fault" id={faultId}>
          {fault}
        </p>
      )}
    </div>
  );
}

/** A refusal as a whole, with the id under which the server remembers it. */
export function Refusal({ sending }: { readonly sending: SendingState }) {
  return (
    <>
      <Refused text={sending.refused} />
      {sending.requestId ? (
        <p className="note">
          {words.request} <span className="code">{sending.requestId}</span>
        </p>
      ) : null}
    </>
  );
}
