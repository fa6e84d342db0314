import { Link } from 'wouter';
import type { Alert } from '../../shared/contract/alerts.ts';
import { ActionBar } from '../alerts/ActionBar.tsx';
import { FourAnswers } from '../alerts/FourAnswers.tsx';
import { nowMs } from '../frame/clock.ts';
import { Flag } from '../frame/Flag.tsx';
import { Head } from '../frame/Section.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useUnit, useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { HEALTH_TITLE, PRIORITY_WORD, SIGNATURE_TITLE } from '../notation/words.ts';
import { words as alertWords } from '../strings/alerts.ts';
import { words as says } from '../strings/chamber.ts';
import { ticketAddress } from '../ticket/address.ts';
import { drawnGases } from './gases.ts';
import { Knowledge } from './Knowledge.tsx';
import type { ChamberParts } from './parts.ts';
import { StripFigure } from './StripFigure.tsx';
import { spanOf } from './span.ts';
import { Where } from './Where.tsx';

interface ChamberHeadProps extends ChamberParts {
  readonly alert: Alert | null;
  readonly open: readonly Alert[];
}

export function ChamberHead({ chamber, alert, open, address, change }: ChamberHeadProps) {
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
        <StripFigure line={chamber} gases={chamber.document?.gases ?? []} />
      </div>
      {chamber.pumpDown ? (
        <p className="note">
          <Sentence text={chamber.pumpDown.say} />
        </p>
      ) : null}
      <Knowledge chamber={chamber} />
      {alert ? <FourAnswers alert={alert} /> : null}
      <HeadActions chamber={chamber} alert={alert} address={address} />
      {others.length > 0 ? (
        <p className="others">
          {says.alsoOpenHere}{' '}
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
      <p>{says.raised(moment(Date.parse(alert.raisedAt), zone, nowMs()))}</p>
    </>
  );
}

type HeadActionsProps = Pick<ChamberHeadProps, 'chamber' | 'alert' | 'address'>;

function HeadActions({ chamber, alert, address }: HeadActionsProps) {
  const unit = useUnit();
  const ticket = () =>
    ticketAddress({
      chamber: chamber.id,
      span: spanOf(address, nowMs()),
      gases: drawnGases(chamber, alert, address),
      alert: alert?.id ?? null,
      analyser: address.analyser,
      unit,
    });
  return (
    <ActionBar alert={alert} chamber={chamber.id} analyser={address.analyser} ticket={ticket} back="/">
      {alert ? (
        <Link className="btn" href={`/alerts/${encodeURIComponent(alert.id)}`}>
          {alertWords.steps}
        </Link>
      ) : null}
      <AnalyserLinks chamber={chamber} address={address} />
    </ActionBar>
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
          {says.howWellItMeasures}
        </Link>
      ) : null}
      {all.length > 1 ? (
        <Link className="btn" href={`/compare?chamber=${encodeURIComponent(chamber.id)}`}>
          {says.compareItsAnalysers}
        </Link>
      ) : null}
    </>
  );
}
