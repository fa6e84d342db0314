import type { FormEvent, ReactNode } from 'react';
import { acknowledge } from '../api/moves.ts';
import { nowMs } from '../frame/clock.ts';
import { Key } from '../frame/Key.tsx';
import { useSession, useZone } from '../frame/site.ts';
import { withLocalTimes } from '../notation/time.ts';
import { words } from '../strings/alerts.ts';
import { Rich } from '../strings/Rich.tsx';
import { useDraft } from './underway.ts';
import { useMove } from './useMove.ts';

interface AcknowledgeFormProps {
  readonly alert: string;
  readonly done?: () => void;
  readonly cancel?: () => void;
  readonly onBusy?: (busy: boolean) => void;
  /** Opened by a person's key or press: the note gets the focus. */
  readonly focus?: boolean;
  readonly heading?: ReactNode;
}

export function AcknowledgeForm({ alert, done, cancel, focus = false, heading }: AcknowledgeFormProps) {
  const draft = useDraft(alert, 'acknowledge');
  const { who } = useSession();
  const move = useMove(() => {
    draft.forget();
    done?.();
  }, draft);
  const leave =
    cancel &&
    (() => {
      draft.forget();
      cancel();
    });
  const send = (event: FormEvent) => {
    event.preventDefault();
    move.run(() => acknowledge(alert, draft.note.trim()));
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && leave?.()}>
      {heading}
      <label>
        {words.noteWhatYouKnow}
        <input
          value={draft.note}
          onChange={(event) => draft.write(event.target.value)}
          maxLength={2000}
          // biome-ignore lint/a11y/noAutofocus: the person has just asked for this field
          autoFocus={focus}
        />
      </label>
      <div className="does">
        <button type="submit" className="main" disabled={move.busy}>
          {move.busy ? <Sending word={words.acknowledging} /> : words.acknowledgeAs(who?.name ?? words.nobody)}
          {focus ? <Key name="↵" /> : null}
        </button>
        {leave ? (
          <button type="button" onClick={leave}>
            <Rich text={words.cancel} parts={{ key: () => <Key name="Esc" /> }} />
          </button>
        ) : (
          <span className="note">{words.doesNotEndTheAlert}</span>
        )}
      </div>
      <Refused text={move.refused} />
    </form>
  );
}

export function Sending({ word }: { readonly word: string }) {
  return (
    <>
      <i className="pulse" />
      {word}
    </>
  );
}

/** A refused move: said where it was tried. What was written stays in its field. */
export function Refused({ text }: { readonly text: string | null }) {
  const zone = useZone();
  return text === null ? null : (
    <p className="refused" role="alert">
      {withLocalTimes(text, zone, nowMs())}
    </p>
  );
}
