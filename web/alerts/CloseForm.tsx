import { type FormEvent, useState } from 'react';
import type { VerifiedCause } from '../../shared/contract/alerts.ts';
import { closeAlert } from '../api/moves.ts';
import { causeTitle } from '../notation/words.ts';
import { words as says } from '../strings/alertMoves.ts';
import { Refused, Sending } from './AcknowledgeForm.tsx';
import { useMove } from './useMove.ts';
import { CAUSE_GROUPS, CAUSE_HINT } from './verifiedCauses.ts';

/** Parts that are found often; others are written in. */
const PARTS = [
  'seal',
  'feedthrough',
  says.weldOrBody,
  says.valveSeat,
  says.gasLine,
  'pump',
  says.coldTrap,
  says.outgassingAfterWork,
  'analyser',
  'gauge',
];

/** Nothing is chosen for the person, least of all what the watch claims: the answer would agree with itself. */
export function CloseForm({ alert }: { readonly alert: string }) {
  const [verified, setVerified] = useState<VerifiedCause | ''>('');
  const [cause, setCause] = useState('');
  const [note, setNote] = useState('');
  const move = useMove();
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (verified === '') return;
    const words = cause.trim();
    move.run(() =>
      closeAlert(alert, {
        cause: words === '' ? causeTitle(verified).toLowerCase() : words,
        note: note.trim(),
        verified,
      }),
    );
  };
  return (
    <form className="do" onSubmit={send} data-form="close">
      <h2>{says.closeWithCause}</h2>
      <label>
        {says.whatWasFoundNeeded}
        <select value={verified} required onChange={(event) => setVerified(event.target.value as VerifiedCause | '')}>
          <option value="">{says.chooseNothingIsChosen}</option>
          {CAUSE_GROUPS.map(([group, words]) => (
            <optgroup key={group} label={group}>
              {words.map((word) => (
                <option key={word} value={word}>
                  {causeTitle(word)}
                </option>
              ))}
            </optgroup>
          ))}
        </select>
      </label>
      {verified !== '' && CAUSE_HINT[verified] ? <p className="note">{CAUSE_HINT[verified]}</p> : null}
      <div className="two">
        <label>
          {says.inYourWords}
          <input
            value={cause}
            maxLength={200}
            list="causes"
            placeholder={says.sealWeldValveSeat}
            onChange={(event) => setCause(event.target.value)}
          />
        </label>
        <label>
          {says.noteWorkOrder}
          <input value={note} maxLength={2000} onChange={(event) => setNote(event.target.value)} />
        </label>
      </div>
      <datalist id="causes">
        {PARTS.map((word) => (
          <option key={word} value={word} />
        ))}
      </datalist>
      <div className="does">
        <button type="submit" disabled={move.busy || verified === ''}>
          {move.busy ? <Sending word={says.closing} /> : says.close}
        </button>
        <span className="note">{verified === '' ? says.sayFirstWhatWasFound : says.aConditionThatStillStands}</span>
      </div>
      <Refused text={move.refused} />
    </form>
  );
}
