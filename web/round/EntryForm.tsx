import { useId, useState } from 'react';
import type { NewEntry } from '../../shared/contract/handover.ts';
import { ENTRY_KINDS, type EntryKind } from '../../shared/contract/words.ts';
import { writeEntry } from '../api/roundMoves.ts';
import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { fieldInstant, offsetText } from '../notation/time.ts';
import { words } from '../strings/handover.ts';
import { LineField, MoveForm } from './MoveForm.tsx';
import { useRoundMove } from './useRoundMove.ts';

/** What an entry can be about: every chamber and every area by its name. */
export interface Subject {
  readonly name: string;
  readonly about: Pick<NewEntry, 'area' | 'chamber'>;
}

interface EntryFormProps {
  /** One: it is about that, and nobody is asked. */
  readonly subjects: readonly Subject[];
  readonly close: () => void;
}

const isKind = (word: string): word is EntryKind => (ENTRY_KINDS as readonly string[]).includes(word);

/** Null: no such date and time, or one that has passed. */
function dueFault(typed: string, at: number | null): string | null {
  if (typed.trim() === '') return null;
  if (at === null) return words.dueFault;
  return at <= nowMs() ? words.duePassed : null;
}

/** Writes what goes on, what was promised or what is to be watched into the handover. */
export function EntryForm({ subjects, close }: EntryFormProps) {
  const zone = useZone();
  const list = useId();
  const [kind, setKind] = useState<EntryKind>('work');
  const [name, setName] = useState('');
  const [text, setText] = useState('');
  const [due, setDue] = useState('');
  const at = fieldInstant(due, zone);
  const [only] = subjects;
  const wanted = name.trim().toLowerCase();
  const subject = subjects.length === 1 ? only : subjects.find((one) => one.name.toLowerCase() === wanted);
  const fault = dueFault(due, at) ?? (wanted !== '' && !subject ? words.noSuch(name.trim()) : null);
  const move = useRoundMove(
    () =>
      writeEntry({
        kind,
        ...subject?.about,
        text: text.trim(),
        ...(at === null ? {} : { dueAt: new Date(at).toISOString() }),
      }),
    close,
  );
  // Blanks fill the field and name nothing.
  const complete = { ...move, run: () => subject && move.run() };
  return (
    <MoveForm move={complete} act={words.addIt} acting={words.adding} fault={fault} cancel={close}>
      <div className="two">
        <label>
          {words.kind}
          <select value={kind} onChange={({ target }) => isKind(target.value) && setKind(target.value)}>
            {ENTRY_KINDS.map((word) => (
              <option key={word} value={word}>
                {words.entryKinds[word]}
              </option>
            ))}
          </select>
        </label>
        {subjects.length > 1 ? (
          <label>
            {words.about}
            <input
              list={list}
              value={name}
              required
              placeholder={words.aboutHint}
              onChange={(event) => setName(event.target.value)}
            />
            <datalist id={list}>
              {subjects.map((one) => (
                <option key={one.about.chamber ?? `area ${one.about.area}`} value={one.name} />
              ))}
            </datalist>
          </label>
        ) : null}
        <label>
          {words.dueField(offsetText(at ?? nowMs(), zone))}
          <input
            value={due}
            inputMode="numeric"
            placeholder="2026-11-27 14:00"
            onChange={(event) => setDue(event.target.value)}
          />
        </label>
      </div>
      <LineField label={words.text} value={text} write={setText} most={1000} required />
    </MoveForm>
  );
}
