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
import { words } from '../strings/alertMoves.ts';
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
          ? words.itWasAnExample(moment(Date.parse(gone), zone, nowMs()), kept.withdrawnBy ?? words.somebody)
          : words.keptAsAnExample(
              causeTitle(kept.verified),
              kept.setBy,
              moment(Date.parse(kept.setAt), zone, nowMs()),
            )}{' '}
        <Link href="/performance#examples">{words.allExamples}</Link>
      </p>
    );
  }
  if (!sure) {
    return (
      <div className="does">
        <button type="button" onClick={() => setSure(true)}>
          {words.keepAsExample}
        </button>
        <span className="note">{words.helpsToNameNextTime(cause)}</span>
      </div>
    );
  }
  const send = (event: FormEvent) => {
    event.preventDefault();
    move.run(() => keepExample(alert.id, note.trim()));
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && setSure(false)}>
      <h2>{words.keepAsAnExample(cause)}</h2>
      <p className="note">{words.fromTheNextScan}</p>
      <label>
        {words.noteIfYouLike}
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
          {move.busy ? <Sending word={words.keeping} /> : words.keepIt}
        </button>
        <button type="button" onClick={() => setSure(false)}>
          {words.notNow}
        </button>
      </div>
      <Refused text={move.refused} />
    </form>
  );
}
