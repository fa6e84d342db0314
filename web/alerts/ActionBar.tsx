import { type ReactNode, useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { Alert } from '../../shared/contract/alerts.ts';
import { query } from '../api/ask.ts';
import { nowMs } from '../frame/clock.ts';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { useMay, useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { words } from '../strings/alerts.ts';
import { AcknowledgeForm } from './AcknowledgeForm.tsx';
import { mayAcknowledge, mayShelve } from './moves.ts';
import { ShelveForm } from './ShelveForm.tsx';

interface ActionBarProps {
  readonly alert: Alert | null;
  readonly chamber: string;
  readonly analyser?: string;
  /** Address of the ticket's page: asked when it is used, because a span may end now. */
  readonly ticket: () => string;
  /** Where Esc leads. */
  readonly back: string;
  readonly children?: ReactNode;
}

type Form = 'acknowledge' | 'shelve' | null;

/** At the head of a chamber and of an alert: the first action is one press away, and the same key everywhere. */
export function ActionBar({ alert, chamber, analyser, ticket, back, children }: ActionBarProps) {
  const [form, setForm] = useState<Form>(null);
  const [, go] = useLocation();
  const may = useMay('operator');
  const acknowledge = alert !== null && may && mayAcknowledge(alert.state);
  const shelve = alert !== null && may && mayShelve(alert.state);
  const compare = (mode: 'before' | 'sisters') =>
    `/compare${query({ mode, chamber, analyser, alert: mode === 'before' ? alert?.id : null })}`;
  useKeys({
    a: acknowledge ? () => setForm('acknowledge') : undefined,
    s: shelve ? () => setForm('shelve') : undefined,
    t: () => go(ticket()),
    c: () => go(compare('before')),
    escape: () => go(back),
  });
  return (
    <>
      <div className="does">
        {acknowledge ? (
          <Opener word={words.acknowledge} form="acknowledge" open={form} set={setForm} name="a" main />
        ) : null}
        {shelve ? <Opener word={words.shelve} form="shelve" open={form} set={setForm} name="s" /> : null}
        <TicketLink ticket={ticket} />
        <Link className="btn" href={compare('before')}>
          {words.compareBefore} <Key name="c" />
        </Link>
        <Link className="btn" href={compare('sisters')}>
          {words.sisters}
        </Link>
        {children}
      </div>
      {alert && !may ? <p className="note act-note">{words.mayLook}</p> : null}
      <OpenForm alert={alert} form={form} close={() => setForm(null)} />
      {alert ? <Known alert={alert} /> : null}
    </>
  );
}

interface OpenerProps {
  readonly word: string;
  readonly form: Exclude<Form, null>;
  readonly open: Form;
  readonly set: (form: Form) => void;
  readonly name: string;
  readonly main?: boolean;
}

const Opener = ({ word, form, open, set, name, main = false }: OpenerProps) => (
  <button type="button" className={main ? 'main' : undefined} aria-expanded={open === form} onClick={() => set(form)}>
    {word} <Key name={name} />
  </button>
);

/** "Now" is the moment at which the link is about to be used. */
function TicketLink({ ticket }: { readonly ticket: () => string }) {
  const [, lookAgain] = useState(0);
  const [, go] = useLocation();
  const refresh = () => lookAgain(nowMs());
  return (
    <Link
      className="btn"
      href={ticket()}
      onFocus={refresh}
      onPointerEnter={refresh}
      onClick={(event) => {
        if (event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
        event.preventDefault();
        go(ticket());
      }}
    >
      {words.ticket} <Key name="t" />
    </Link>
  );
}

interface OpenFormProps {
  readonly alert: Alert | null;
  readonly form: Form;
  readonly close: () => void;
}

function OpenForm({ alert, form, close }: OpenFormProps) {
  if (alert === null || form === null) return null;
  return form === 'acknowledge' ? (
    <AcknowledgeForm alert={alert.id} done={close} cancel={close} focus />
  ) : (
    <ShelveForm alert={alert.id} done={close} cancel={close} focus />
  );
}

function Known({ alert: { acknowledged } }: { readonly alert: Alert }) {
  const zone = useZone();
  if (!acknowledged) return null;
  const when = moment(Date.parse(acknowledged.at), zone, nowMs());
  return (
    <p className="note acknowledged">
      {acknowledged.note
        ? words.knowsSinceWith(acknowledged.by, when, acknowledged.note)
        : words.knowsSince(acknowledged.by, when)}
    </p>
  );
}
