import { useState } from 'react';
import { countersignRound } from '../api/roundMoves.ts';
import { announce } from '../frame/announce.ts';
import { useMay, useSession } from '../frame/site.ts';
import { words } from '../strings/handover.ts';
import { LineField, MoveForm } from './MoveForm.tsx';
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
  if (!may) return <p className="note">{words.needsOperator}</p>;
  return (
    <MoveForm
      move={move}
      act={words.countersignAs(who?.name ?? '')}
      acting={words.countersigning}
      cancel={cancel}
      aside={signers.includes(who?.name ?? '') ? words.yours : null}
    >
      <LineField label={words.takeOverNote} value={note} write={setNote} most={4000} focus={cancel !== undefined} />
    </MoveForm>
  );
}
