import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { Refused, Sending } from '../alerts/AcknowledgeForm.tsx';
import { refusalText } from '../alerts/useMove.ts';
import { nowMs } from '../frame/clock.ts';
import { Key } from '../frame/Key.tsx';
import { useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { words } from '../strings/crossHair.ts';
import { makeNote } from './notes.ts';

interface NoteFormProps {
  readonly chamber: string;
  readonly at: number;
  readonly close: () => void;
}

export function NoteForm({ chamber, at, close }: NoteFormProps) {
  const zone = useZone();
  const client = useQueryClient();
  const [text, setText] = useState('');
  const note = useMutation({
    mutationFn: () => makeNote(chamber, { at: new Date(at).toISOString(), text: text.trim() }),
    onSuccess: close,
    onSettled: () => client.invalidateQueries({ queryKey: ['chamber', chamber, 'notes'] }),
  });
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (text.trim() !== '') note.mutate();
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && close()}>
      <h3>{words.noteAt(moment(at, zone, nowMs()))}</h3>
      <label>
        {words.noteField}
        <input
          value={text}
          onChange={(event) => setText(event.target.value)}
          required
          maxLength={2000}
          // biome-ignore lint/a11y/noAutofocus: the person has just asked for this field
          autoFocus
        />
      </label>
      <div className="does">
        <button type="submit" disabled={note.isPending}>
          {note.isPending ? <Sending word={words.keeping} /> : words.keep} <Key name="↵" />
        </button>
        <button type="button" onClick={close}>
          {words.cancel} <Key name="Esc" />
        </button>
      </div>
      <Refused text={note.error ? refusalText(note.error) : null} />
    </form>
  );
}
