import { unshelve } from '../api/moves.ts';
import type { AlertWithLife } from '../api/shapes.ts';
import { nowMs } from '../frame/clock.ts';
import { useMay, useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { words } from '../strings/alerts.ts';
import { Refused, Sending } from './AcknowledgeForm.tsx';
import { CloseForm } from './CloseForm.tsx';
import { KeepExample } from './KeepExample.tsx';
import { isOpen, mayLeaveService } from './moves.ts';
import { ResetForm } from './ResetForm.tsx';
import { OutOfServiceForm, ReturnForm } from './ServiceForms.tsx';
import { useMove } from './useMove.ts';

/** What ends, resets or sets aside this alert: what comes first stands at the head of the page. */
export function AlertForms({ alert }: { readonly alert: AlertWithLife }) {
  return useMay('operator') ? <Moves alert={alert} /> : null;
}

function Moves({ alert }: { readonly alert: AlertWithLife }) {
  const engineer = useMay('engineer');
  return (
    <>
      {alert.latched && isOpen(alert.state) ? <ResetForm alert={alert} /> : null}
      {alert.state === 'shelved' ? <UnshelveForm alert={alert} /> : null}
      {alert.state === 'out-of-service' ? <ReturnForm alert={alert} /> : null}
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
      <h2>{words.shelved}</h2>
      <p>
        {alert.shelvedUntil
          ? words.comesBackAt(moment(Date.parse(alert.shelvedUntil), zone, nowMs()))
          : words.comesBackByItself}
      </p>
      <div className="does">
        <button type="submit" disabled={move.busy}>
          {move.busy ? <Sending word={words.takingItBack} /> : words.takeItBackNow}
        </button>
      </div>
      <Refused text={move.refused} />
    </form>
  );
}
