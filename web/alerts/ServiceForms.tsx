import { type FormEvent, useState } from 'react';
import { returnToService, takeOutOfService } from '../api/moves.ts';
import type { AlertWithLife } from '../api/shapes.ts';
import { nowMs } from '../frame/clock.ts';
import { useMay, useZone } from '../frame/site.ts';
import { fieldInstant, fieldValue, moment } from '../notation/time.ts';
import { words } from '../strings/alertMoves.ts';
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
      ? words.aDateAndATime
      : at <= nowMs()
        ? words.thatTimeHasPassed
        : at - nowMs() > LONGEST_DAYS * DAY_MS
          ? words.outOfServiceLastsDays(LONGEST_DAYS)
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
          {words.takeOutOfService}
        </button>
        <span className="note">{words.forWorkThatLastsLonger}</span>
      </div>
    );
  }
  return (
    <form className="do" onSubmit={send} onKeyDown={(event) => event.key === 'Escape' && setOpen(false)}>
      <h2>{words.takeOutOfService2}</h2>
      <p className="note">{words.untilThenThisAlertCalls}</p>
      <div className="two">
        <UntilField until={until} set={setUntil} />
        <label>
          {words.reasonAndWhatGuardsMeanwhile}
          <input value={reason} required maxLength={2000} onChange={(event) => setReason(event.target.value)} />
        </label>
      </div>
      <UntilPresets lengths={PRESET_DAYS} unit="d" set={setUntil} />
      <div className="does">
        <button type="submit" disabled={move.busy || fault !== null || reason.trim() === ''}>
          {move.busy ? <Sending word={words.takingItOut} /> : words.takeOutOfService2}
        </button>
        <button type="button" onClick={() => setOpen(false)}>
          {words.leaveItInService}
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
      <h2>{words.outOfService}</h2>
      <p>{words.itReturns(until ?? words.byItself)}</p>
      {engineer ? (
        <div className="does">
          <button type="submit" disabled={move.busy}>
            {move.busy ? <Sending word={words.puttingItBack} /> : words.returnToServiceNow}
          </button>
        </div>
      ) : (
        <p className="note">{words.returningItSoonerNeeds}</p>
      )}
      <Refused text={move.refused} />
    </form>
  );
}
