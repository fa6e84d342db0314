import { type FormEvent, useState } from 'react';
import { resetAlert } from '../api/moves.ts';
import type { AlertWithLife } from '../api/shapes.ts';
import { Refused, Sending } from './AcknowledgeForm.tsx';
import { isPutAside } from './moves.ts';
import { useMove } from './useMove.ts';

/** What must come before a reset; null: nothing. */
function missing({ returnedAt, state }: AlertWithLife): string | null {
  if (returnedAt === null) return 'That can be done once the condition has returned to usual; it still stands.';
  if (isPutAside(state)) return 'That can be done once it is no longer put aside.';
  return state === 'acknowledged' ? null : 'Acknowledge it first: its condition has returned.';
}

/** A latched alert waits for a person even after its condition has gone. */
export function ResetForm({ alert }: { readonly alert: AlertWithLife }) {
  const [note, setNote] = useState('');
  const move = useMove();
  const before = missing(alert);
  if (before !== null) {
    return (
      <div className="do-not">
        <h2>Latched</h2>
        <p className="note">It stays until somebody resets it. {before}</p>
      </div>
    );
  }
  const send = (event: FormEvent) => {
    event.preventDefault();
    move.run(() => resetAlert(alert.id, note.trim()));
  };
  return (
    <form className="do" onSubmit={send}>
      <h2>Reset</h2>
      <label>
        Note (why it may go)
        <input value={note} maxLength={2000} onChange={(event) => setNote(event.target.value)} />
      </label>
      <div className="does">
        <button type="submit" disabled={move.busy}>
          {move.busy ? <Sending word="Resetting…" /> : 'Reset the alert'}
        </button>
        <span className="note">the condition has returned; the alert is latched until you do</span>
      </div>
      <Refused text={move.refused} />
    </form>
  );
}
