import { type FormEvent, useState } from 'react';
import { Refused, Sending } from '../alerts/AcknowledgeForm.tsx';
import { countersignRound } from '../api/roundMoves.ts';
import { announce } from '../frame/announce.ts';
import { Key } from '../frame/Key.tsx';
import { useMay, useSession } from '../frame/site.ts';
import { words } from '../strings/handover.ts';
import { useRoundMove } from './useRoundMove.ts';

interface CountersignFormProps {
  /** Ids of signed rounds: they are taken over one after the other. */
  readonly rounds: readonly string[];
  /** Whoever signed them, by name. */
  readonly signers: readonly string[];
  readonly cancel?: () => void;
}

/** What was taken over stays so when a later one is refused. */
async function takeOver(rounds: readonly string[], note: string): Promise<number> {
  for (const round of rounds) await countersignRound(round, note);
  return rounds.length;
}

/** The signature of the shift that takes over. */
export function CountersignForm({ rounds, signers, cancel }: CountersignFormProps) {
  const [note, setNote] = useState('');
  const { who } = useSession();
  const may = useMay('operator');
  const move = useRoundMove(
    () => takeOver(rounds, note.trim()),
    (count) => {
      announce(words.countersigned(count), 'polite');
      cancel?.();
    },
  );
  const send = (event: FormEvent) => {
    event.preventDefault();
    move.run();
  };
  if (!may) return <p className="note">{words.needsOperator}</p>;
  return (
    <form className="do entry" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && cancel?.()}>
      <label>
        {words.takeOverNote}
        <input
          value={note}
          maxLength={4000}
          onChange={(event) => setNote(event.target.value)}
          // biome-ignore lint/a11y/noAutofocus: the person has just asked for this field
          autoFocus={cancel !== undefined}
        />
      </label>
      <div className="does">
        <button type="submit" disabled={move.busy}>
          {move.busy ? <Sending word={words.countersigning} /> : words.countersignAs(who?.name ?? '')} <Key name="↵" />
        </button>
        {cancel ? (
          <button type="button" onClick={cancel}>
            {words.cancel} <Key name={words.esc} />
          </button>
        ) : null}
        {signers.includes(who?.name ?? '') ? <span className="note">{words.yours}</span> : null}
      </div>
      <Refused text={move.refused} />
    </form>
  );
}
