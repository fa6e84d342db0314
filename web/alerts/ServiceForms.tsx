import { type FormEvent, useState } from 'react';
import { returnToService, takeOutOfService } from '../api/moves.ts';
import type { AlertWithLife } from '../api/shapes.ts';
import { nowMs } from '../frame/clock.ts';
import { useMay, useZone } from '../frame/site.ts';
import { fieldInstant, fieldValue, moment } from '../notation/time.ts';
import { Refused, Sending } from './AcknowledgeForm.tsx';
import { UntilField, UntilPresets } from './UntilField.tsx';
import { useMove } from './useMove.ts';

const DAY_MS = 86_400_000;
const PROPOSED_DAYS = 7;
const PRESET_DAYS = [1, 7, 30];
/** The server keeps nothing out of service for longer. */
const LONGEST_DAYS = 90;

/** For work that lasts: until a date, with a reason, by an engineer; the list of what is out of service shows it. */
export function OutOfServiceForm({ alert }: { readonly alert: string }) {
  const [open, setOpen] = useState(false);
  const zone = useZone();
  const [until, setUntil] = useState(() => fieldValue(nowMs() + PROPOSED_DAYS * DAY_MS, zone));
  const [reason, setReason] = useState('');
  const move = useMove(() => setOpen(false));
  const at = fieldInstant(until, zone);
  const fault =
    at === null
      ? 'A date and a time are needed, such as 2026-11-27 14:00.'
      : at <= nowMs()
        ? 'That time has passed.'
        : at - nowMs() > LONGEST_DAYS * DAY_MS
          ? `Out of service lasts ${LONGEST_DAYS} days at most.`
          : null;
  const send = (event: FormEvent) => {
    event.preventDefault();
    if (at !== null && fault === null)
      move.run(() => takeOutOfService(alert, new Date(at).toISOString(), reason.trim()));
  };
  if (!open) {
    return (
      <div className="does">
        <button type="button" onClick={() => setOpen(true)}>
          Take out of service…
        </button>
        <span className="note">for work that lasts longer than a day</span>
      </div>
    );
  }
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && setOpen(false)}>
      <h2>Take out of service</h2>
      <p className="note">
        Until then this alert calls nobody, and neither does the same one raised again on this chamber. What guards the
        chamber meanwhile is for you to say.
      </p>
      <div className="two">
        <UntilField until={until} set={setUntil} />
        <label>
          Reason, and what guards meanwhile (needed)
          <input value={reason} required maxLength={2000} onChange={(event) => setReason(event.target.value)} />
        </label>
      </div>
      <UntilPresets lengths={PRESET_DAYS} unit="d" set={setUntil} />
      <div className="does">
        <button type="submit" disabled={move.busy || fault !== null || reason.trim() === ''}>
          {move.busy ? <Sending word="Taking it out…" /> : 'Take out of service'}
        </button>
        <button type="button" onClick={() => setOpen(false)}>
          Leave it in service
        </button>
        {fault ? <span className="note">{fault}</span> : null}
      </div>
      <Refused text={move.refused} />
    </form>
  );
}

export function ReturnForm({ alert }: { readonly alert: AlertWithLife }) {
  const move = useMove();
  const zone = useZone();
  const engineer = useMay('engineer');
  const until = alert.outOfService ? moment(Date.parse(alert.outOfService.until), zone, nowMs()) : null;
  return (
    <form
      className="do"
      onSubmit={(event) => {
        event.preventDefault();
        move.run(() => returnToService(alert.id));
      }}
    >
      <h2>Out of service</h2>
      <p>It returns {until ?? 'by itself'}.</p>
      {engineer ? (
        <div className="does">
          <button type="submit" disabled={move.busy}>
            {move.busy ? <Sending word="Putting it back…" /> : 'Return to service now'}
          </button>
        </div>
      ) : (
        <p className="note">Returning it sooner needs the role engineer.</p>
      )}
      <Refused text={move.refused} />
    </form>
  );
}
