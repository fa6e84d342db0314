import { type FormEvent, useState } from 'react';
import { resetAlert } from '../api/moves.ts';
import type { AlertWithLife } from '../api/shapes.ts';
import { words } from '../strings/alertMoves.ts';
import { Refused, Sending } from './AcknowledgeForm.tsx';
import { isPutAside } from './moves.ts';
import { useMove } from './useMove.ts';

/** What must come before a reset; null: nothing. */
function missing({ returnedAt, state }: AlertWithLife): string | null {
  if (returnedAt === null) return words.thatCanBeDoneOnce;
  if (isPutAside(state)) return words.thatCanBeDoneOnce2;
  return state === 'acknowledged' ? null : words.acknowledgeItFirstItsCondition;
}

/** A latched alert waits for a person even after its condition has gone. */
export function ResetForm({ alert }: { readonly alert: AlertWithLife }) {
  const [note, setNote] = useState('');
  const move = useMove();
  const before = missing(alert);
  if (before !== null) {
    return (
      <div className="do-not">
        <h2>{words.latched}</h2>
        <p className="note">{words.itStaysUntilSomebodyResets(before)}</p>
      </div>
    );
  }
  const send = (event: FormEvent) => {
    event.preventDefault();
    move.run(() => resetAlert(alert.id, note.trim()));
  };
  return (
    <form className="do" onSubmit={send}>
      <h2>{words.reset}</h2>
      <label>
        {words.noteWhyItMayGo}
        <input value={note} maxLength={2000} onChange={(event) => setNote(event.target.value)} />
      </label>
      <div className="does">
        <button type="submit" disabled={move.busy}>
          {move.busy ? <Sending word={words.resetting} /> : words.resetTheAlert}
        </button>
        <span className="note">{words.theConditionHasReturned}</span>
      </div>
      <Refused text={move.refused} />
    </form>
  );
}
