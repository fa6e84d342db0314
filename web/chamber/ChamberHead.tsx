import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { Alert } from '../../shared/contract/alerts.ts';
import { AcknowledgeForm } from '../alerts/AcknowledgeForm.tsx';
import { FourAnswers } from '../alerts/FourAnswers.tsx';
import { mayAcknowledge, mayShelve } from '../alerts/moves.ts';
import { ShelveForm } from '../alerts/ShelveForm.tsx';
import { nowMs } from '../frame/clock.ts';
import { Flag } from '../frame/Flag.tsx';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { Head } from '../frame/Section.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useMay, useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { HEALTH_TITLE, PRIORITY_WORD, SIGNATURE_TITLE } from '../notation/words.ts';
import { ChamberStrip } from '../strip/ChamberStrip.tsx';
import { ownGasesOf } from '../strip/layout.ts';
import { useLayout, useNarrow } from '../strip/useLayout.ts';
import { gasesAtFirst } from './gases.ts';
import type { ChamberParts } from './parts.ts';
import { spanOf } from './span.ts';
import { ticketAddress } from './ticket.ts';
import { Where } from './Where.tsx';

interface ChamberHeadProps extends ChamberParts {
  readonly alert: Alert | null;
  readonly open: readonly Alert[];
}

/** At the head of a chamber the strip stands larger. */
const STRIP_SCALE = 1.3;

export function ChamberHead({ chamber, alert, open, address, change }: ChamberHeadProps) {
  const layout = useLayout(ownGasesOf([chamber.strip], chamber.document?.gases ?? []), 'row');
  const narrow = useNarrow();
  const others = open.filter(({ id }) => id !== alert?.id);
  return (
    <Head
      margin={alert ? <AlertMargin alert={alert} /> : <b>{HEALTH_TITLE[chamber.health]}</b>}
      flag={alert ? <Flag priority={alert.priority} state={alert.state} scale={2.1} onRule /> : null}
    >
      <Where chamber={chamber} address={address} change={change} />
      <div className="top">
        <h1 className="verdict">
          {alert ? (
            <span className="narrow-only">
              <b className={`pri ${alert.priority}`}>{PRIORITY_WORD[alert.priority]}.</b>{' '}
            </span>
          ) : null}
          <Sentence text={alert ? alert.summary : chamber.say} />
        </h1>
        <figure>
          <ChamberStrip line={chamber} layout={layout} scale={narrow ? 1 : STRIP_SCALE} />
          <figcaption className="note">
            decades from its own baseline{chamber.state ? ` in ${chamber.state}` : ''}, one cut a decade; thin mark:
            last round
          </figcaption>
        </figure>
      </div>
      {chamber.pumpDown ? (
        <p className="note">
          <Sentence text={chamber.pumpDown.say} />
        </p>
      ) : null}
      {alert ? <FourAnswers alert={alert} /> : null}
      <HeadActions chamber={chamber} alert={alert} address={address} />
      {others.length > 0 ? (
        <p className="others">
          Also open here:{' '}
          {others.map((other) => (
            <button key={other.id} type="button" className="quiet" onClick={() => change({ alert: other.id })}>
              {SIGNATURE_TITLE[other.signature]} ({PRIORITY_WORD[other.priority]}, {other.state})
            </button>
          ))}
        </p>
      ) : null}
    </Head>
  );
}

function AlertMargin({ alert }: { readonly alert: Alert }) {
  const zone = useZone();
  return (
    <>
      <p className={`pri ${alert.priority}`}>{PRIORITY_WORD[alert.priority]}</p>
      <p>{alert.state}</p>
      <p>raised {moment(Date.parse(alert.raisedAt), zone, nowMs())}</p>
    </>
  );
}

type HeadActionsProps = Pick<ChamberHeadProps, 'chamber' | 'alert' | 'address'>;

function HeadActions({ chamber, alert, address }: HeadActionsProps) {
  const [form, setForm] = useState<'acknowledge' | 'shelve' | null>(null);
  const [, go] = useLocation();
  const may = useMay('operator');
  const acknowledge = alert !== null && may && mayAcknowledge(alert.state);
  const shelve = alert !== null && may && mayShelve(alert.state);
  const ticket = () =>
    ticketAddress({
      chamber: chamber.id,
      span: spanOf(address, nowMs()),
      gases: address.gases.length > 0 ? address.gases : gasesAtFirst(chamber, alert),
      alert: alert?.id ?? null,
    });
  useKeys({
    a: acknowledge ? () => setForm('acknowledge') : undefined,
    s: shelve ? () => setForm('shelve') : undefined,
    t: () => window.location.assign(ticket()),
    escape: () => go('/'),
  });
  const close = () => setForm(null);
  return (
    <>
      <div className="does">
        {acknowledge ? (
          <button
            type="button"
            className="main"
            aria-expanded={form === 'acknowledge'}
            onClick={() => setForm('acknowledge')}
          >
            Acknowledge <Key name="a" />
          </button>
        ) : null}
        {shelve ? (
          <button type="button" aria-expanded={form === 'shelve'} onClick={() => setForm('shelve')}>
            Shelve <Key name="s" />
          </button>
        ) : null}
        <a className="btn" href={ticket()} download onFocus={refresh(ticket)} onPointerEnter={refresh(ticket)}>
          Ticket <Key name="t" />
        </a>
        {alert ? (
          <Link className="btn" href={`/alerts/${encodeURIComponent(alert.id)}`}>
            Response steps
          </Link>
        ) : null}
        <AnalyserLinks chamber={chamber} address={address} />
        {alert && !may ? <span className="note">You may look; acknowledging needs the role operator.</span> : null}
      </div>
      {form === 'acknowledge' && alert ? <AcknowledgeForm alert={alert.id} done={close} cancel={close} focus /> : null}
      {form === 'shelve' && alert ? <ShelveForm alert={alert.id} done={close} cancel={close} focus /> : null}
      {alert?.acknowledged ? (
        <p className="note acknowledged">
          {alert.acknowledged.by} knows since {alert.acknowledged.at ? <Moment at={alert.acknowledged.at} /> : null}
          {alert.acknowledged.note ? `: “${alert.acknowledged.note}”` : '.'}
        </p>
      ) : null}
    </>
  );
}

/** From the chamber to how far its analyser can be trusted, and to the second opinion where there is one. */
function AnalyserLinks({ chamber, address }: Pick<ChamberParts, 'chamber' | 'address'>) {
  const all = chamber.analysersDetail;
  const analyser = all.find(({ id }) => id === address.analyser) ?? all[0];
  return (
    <>
      {analyser ? (
        <Link className="btn" href={`/measurement/${encodeURIComponent(analyser.id)}`}>
          How well it measures
        </Link>
      ) : null}
      {all.length > 1 ? (
        <Link className="btn" href={`/compare?chamber=${encodeURIComponent(chamber.id)}`}>
          Compare its analysers
        </Link>
      ) : null}
    </>
  );
}

/** The span ends now: "now" is the moment at which the link is about to be used. */
const refresh = (ticket: () => string) => (event: { currentTarget: HTMLAnchorElement }) => {
  event.currentTarget.href = ticket();
};

function Moment({ at }: { readonly at: string }) {
  const zone = useZone();
  return <>{moment(Date.parse(at), zone, nowMs())}</>;
}
