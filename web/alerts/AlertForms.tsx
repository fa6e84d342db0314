import { unshelve } from '../api/moves.ts';
import type { AlertWithLife } from '../api/shapes.ts';
import { ticketAddress } from '../chamber/ticket.ts';
import { nowMs } from '../frame/clock.ts';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { useMay, useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { AcknowledgeForm, Refused, Sending } from './AcknowledgeForm.tsx';
import { CloseForm } from './CloseForm.tsx';
import { KeepExample } from './KeepExample.tsx';
import { isOpen, mayAcknowledge, mayLeaveService, mayShelve } from './moves.ts';
import { ResetForm } from './ResetForm.tsx';
import { OutOfServiceForm, ReturnForm } from './ServiceForms.tsx';
import { ShelveForm } from './ShelveForm.tsx';
import { useMove } from './useMove.ts';

const DAY_MS = 86_400_000;

/** Everything that a person can do with this alert now. */
export function AlertForms({ alert }: { readonly alert: AlertWithLife }) {
  const may = useMay('operator');
  const ticket = () =>
    ticketAddress({
      chamber: alert.chamber,
      span: { from: Date.parse(alert.raisedAt) - DAY_MS, to: nowMs() },
      gases: alert.gases,
      alert: alert.id,
    });
  useKeys({
    a: () => focusField('acknowledge'),
    s: () => focusField('shelve'),
    t: () => window.location.assign(ticket()),
  });
  return (
    <>
      {may ? (
        <Moves alert={alert} />
      ) : (
        <p className="note">You may look. Acknowledging, shelving and closing need the role operator; ask an admin.</p>
      )}
      <div className="does">
        <a className="btn" href={ticket()} download>
          Ticket <Key name="t" />
        </a>
      </div>
    </>
  );
}

/** The forms stand on the page already: a key takes the reader into the right one. */
function focusField(form: string): void {
  const fields = document.querySelectorAll<HTMLElement>(`[data-form="${form}"] input`);
  fields[fields.length - 1]?.focus();
}

function Moves({ alert }: { readonly alert: AlertWithLife }) {
  const engineer = useMay('engineer');
  return (
    <>
      {mayAcknowledge(alert.state) ? (
        <div data-form="acknowledge">
          <AcknowledgeForm alert={alert.id} heading={<h2>Acknowledge</h2>} />
        </div>
      ) : null}
      {alert.latched && isOpen(alert.state) ? <ResetForm alert={alert} /> : null}
      {alert.state === 'shelved' ? <UnshelveForm alert={alert} /> : null}
      {alert.state === 'out-of-service' ? <ReturnForm alert={alert} /> : null}
      {mayShelve(alert.state) ? (
        <div data-form="shelve">
          <ShelveForm alert={alert.id} heading={<h2>Shelve</h2>} />
        </div>
      ) : null}
      {isOpen(alert.state) ? <CloseForm alert={alert.id} /> : null}
      {engineer && mayLeaveService(alert.state) ? <OutOfServiceForm alert={alert.id} /> : null}
      <KeepExample alert={alert} />
    </>
  );
}

function UnshelveForm({ alert }: { readonly alert: AlertWithLife }) {
  const move = useMove();
  const zone = useZone();
  return (
    <form
      className="do"
      onSubmit={(event) => {
        event.preventDefault();
        move.run(() => unshelve(alert.id));
      }}
    >
      <h2>Shelved</h2>
      <p>It comes back {alert.shelvedUntil ? moment(Date.parse(alert.shelvedUntil), zone, nowMs()) : 'by itself'}.</p>
      <div className="does">
        <button type="submit" disabled={move.busy}>
          {move.busy ? <Sending word="Taking it back…" /> : 'Take it back now'}
        </button>
      </div>
      <Refused text={move.refused} />
    </form>
  );
}
