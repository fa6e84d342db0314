import type { FormEvent, ReactNode } from 'react';
import { Refused, Sending } from '../alerts/AcknowledgeForm.tsx';
import { Key } from '../frame/Key.tsx';
import { words } from '../strings/handover.ts';
import type { RoundMove } from './useRoundMove.ts';

interface MoveFormProps {
  readonly move: Pick<RoundMove<unknown>, 'run' | 'busy' | 'refused'>;
  /** What is on the button, and what stands there while the server is asked. */
  readonly act: string;
  readonly acting: string;
  /** Why nothing can be sent yet; the button waits until it is null. */
  readonly fault?: string | null;
  /** Without it the form stands open for good. */
  readonly cancel?: (() => void) | undefined;
  /** Said beside the buttons. */
  readonly aside?: string | null;
  readonly children: ReactNode;
}

/** A move of the round or of its handover: Enter sends it, Escape leaves it, a refusal is said where it was tried. */
export function MoveForm({ move, act, acting, fault = null, cancel, aside = null, children }: MoveFormProps) {
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (fault === null) move.run();
  };
  const said = fault ?? aside;
  return (
    <form className="do entry" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && cancel?.()}>
      {children}
      <div className="does">
        <button type="submit" disabled={move.busy || fault !== null}>
          {move.busy ? <Sending word={acting} /> : act} <Key name="↵" />
        </button>
        {cancel ? (
          <button type="button" onClick={cancel}>
            {words.cancel} <Key name={words.esc} />
          </button>
        ) : null}
        {said === null ? null : <span className="note">{said}</span>}
      </div>
      <Refused text={move.refused} />
    </form>
  );
}

interface LineFieldProps {
  readonly label: string;
  readonly value: string;
  readonly write: (text: string) => void;
  readonly most: number;
  readonly required?: boolean;
  /** The person has just asked for the form. */
  readonly focus?: boolean;
}

/** One line in the person's own words. */
export function LineField({ label, value, write, most, required = false, focus = true }: LineFieldProps) {
  return (
    <label>
      {label}
      <input
        value={value}
        required={required}
        maxLength={most}
        onChange={(event) => write(event.target.value)}
        // biome-ignore lint/a11y/noAutofocus: the person has just asked for this field
        autoFocus={focus}
      />
    </label>
  );
}
