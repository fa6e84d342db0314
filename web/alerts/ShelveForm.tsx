import { type FormEvent, type ReactNode, useState } from 'react';
import { shelve } from '../api/moves.ts';
import { nowMs } from '../frame/clock.ts';
import { Key } from '../frame/Key.tsx';
import { useZone } from '../frame/site.ts';
import { fieldInstant, fieldValue } from '../notation/time.ts';
import { words } from '../strings/alerts.ts';
import { Rich } from '../strings/Rich.tsx';
import { Refused, Sending } from './AcknowledgeForm.tsx';
import { UntilField, UntilPresets } from './UntilField.tsx';
import { useDraft } from './underway.ts';
import { useMove } from './useMove.ts';

interface ShelveFormProps {
  readonly alert: string;
  readonly done?: () => void;
  readonly cancel?: () => void;
  readonly focus?: boolean;
  readonly heading?: ReactNode;
}

const HOUR_MS = 3_600_000;
/** Half a shift: long enough for the work, short enough to come back to the same people. */
const PROPOSED_HOURS = 4;

const PRESET_HOURS = [1, 4, 8, 24];
/** The server keeps nothing shelved for longer: what is to rest for days is taken out of service instead. */
const LONGEST_HOURS = 24;

export function faultOf(at: number | null, nowMs: number): string | null {
  if (at === null) return words.aDateAndATime;
  if (at <= nowMs) return words.thatTimeHasPassed;
  return at - nowMs > LONGEST_HOURS * HOUR_MS ? words.shelvingLastsHoursAtMost : null;
}

/** Shelving always ends by itself: the time is part of the question. */
export function ShelveForm({ alert, done, cancel, focus = false, heading }: ShelveFormProps) {
  const zone = useZone();
  const [until, setUntil] = useState(() => fieldValue(nowMs() + PROPOSED_HOURS * HOUR_MS, zone));
  const draft = useDraft(alert, 'shelve');
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
  const at = fieldInstant(until, zone);
  const faulty = faultOf(at, nowMs());
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (at !== null && faulty === null) move.run(() => shelve(alert, new Date(at).toISOString(), draft.note.trim()));
  };
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && leave?.()}>
      {heading}
      <div className="two">
        <UntilField until={until} set={setUntil} />
        <label>
          {words.reasonNeeded}
          <input
            value={draft.note}
            onChange={(event) => draft.write(event.target.value)}
            required
            maxLength={2000}
            // biome-ignore lint/a11y/noAutofocus: the person has just asked for this field
            autoFocus={focus}
          />
        </label>
      </div>
      <UntilPresets lengths={PRESET_HOURS} unit="h" set={setUntil} />
      <div className="does">
        <button type="submit" disabled={move.busy || faulty !== null}>
          {move.busy ? <Sending word={words.shelving} /> : words.shelve} {focus ? <Key name="↵" /> : null}
        </button>
        {leave ? (
          <button type="button" onClick={leave}>
            <Rich text={words.cancel} parts={{ key: () => <Key name="Esc" /> }} />
          </button>
        ) : null}
        {faulty ? <span className="note">{faulty}</span> : null}
      </div>
      <Refused text={move.refused} />
    </form>
  );
}
