import { useQuery } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { Link } from 'wouter';
import { keepExample } from '../api/alarmMoves.ts';
import { examplesQuestion } from '../api/alarmQuestions.ts';
import type { AlertWithLife } from '../api/shapes.ts';
import { nowMs } from '../frame/clock.ts';
import { useMay, useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { causeTitle } from '../notation/words.ts';
import { Refused, Sending } from './AcknowledgeForm.tsx';
import { useMove } from './useMove.ts';
import { isSignature } from './verifiedCauses.ts';

/** A closed case whose cause is known teaches the watch to name the next one: one press, one confirmation. */
export function KeepExample({ alert }: { readonly alert: AlertWithLife }) {
  const engineer = useMay('engineer');
  if (alert.closed === null || !isSignature(alert.verified)) return null;
  return engineer ? <Keep alert={alert} cause={causeTitle(alert.verified)} /> : null;
}

function Keep({ alert, cause }: { readonly alert: AlertWithLife; readonly cause: string }) {
  const [sure, setSure] = useState(false);
  const [note, setNote] = useState('');
  const { data } = useQuery(examplesQuestion);
  const zone = useZone();
  const move = useMove(() => setSure(false));
  const kept = data?.examples.find((example) => example.alert === alert.id);
  if (kept) {
    const gone = kept.withdrawnAt;
    return (
      <p className="note kept">
        {gone
          ? `It was an example until ${moment(Date.parse(gone), zone, nowMs())}, withdrawn by ${kept.withdrawnBy ?? 'somebody'}.`
          : `Kept as an example of “${causeTitle(kept.verified)}” by ${kept.setBy}, ${moment(Date.parse(kept.setAt), zone, nowMs())}.`}{' '}
        <Link href="/performance#examples">All examples</Link>
      </p>
    );
  }
  if (!sure) {
    return (
      <div className="does">
        <button type="button" onClick={() => setSure(true)}>
          Keep as example
        </button>
        <span className="note">helps to name “{cause}” next time</span>
      </div>
    );
  }
  const send = (event: FormEvent) => {
    event.preventDefault();
    move.run(() => keepExample(alert.id, note.trim()));
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && setSure(false)}>
      <h2>Keep as an example of “{cause}”</h2>
      <p className="note">
        From the next scan on, chambers of this kind are compared with what was seen here. It can be withdrawn at any
        time.
      </p>
      <label>
        Note, if you like
        <input
          value={note}
          maxLength={2000}
          onChange={(event) => setNote(event.target.value)}
          // biome-ignore lint/a11y/noAutofocus: the person has just asked for this field
          autoFocus
        />
      </label>
      <div className="does">
        <button type="submit" disabled={move.busy}>
          {move.busy ? <Sending word="Keeping…" /> : 'Keep it'}
        </button>
        <button type="button" onClick={() => setSure(false)}>
          Not now
        </button>
      </div>
      <Refused text={move.refused} />
    </form>
  );
}
