import { useQuery } from '@tanstack/react-query';
import { useEffect, useRef } from 'react';
import { Link, useLocation } from 'wouter';
import type { TicketSheet } from '../../shared/contract/ticket.ts';
import { useAddress } from '../address/useAddress.ts';
import { EvidenceTable, HowToReadEvidence } from '../alerts/EvidenceTable.tsx';
import { FourAnswers } from '../alerts/FourAnswers.tsx';
import type { RefusedError } from '../api/ask.ts';
import { isImpossible } from '../api/faults.ts';
import { Flag } from '../frame/Flag.tsx';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { Answered, isMissing, NotFound } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { useTitle } from '../frame/title.ts';
import { sentenceIn } from '../notation/sentence.ts';
import { zoneCity } from '../notation/time.ts';
import { PRIORITY_WORD } from '../notation/words.ts';
import { words } from '../strings/ticket.ts';
import { ticketCodec } from './address.ts';
import { GasNumbers } from './GasNumbers.tsx';
import { ticketQuestion } from './question.ts';
import { stamp } from './stamp.ts';
import { TicketFoot } from './TicketFoot.tsx';
import { AlsoStood, Cautions, Gaps, InForce, Notes, WhatWasDone } from './TicketParts.tsx';

/** A ticket to be read, printed and handed on: what the zip holds, on one page. */
export function TicketPage({ id }: { readonly id: string }) {
  const [address] = useAddress(ticketCodec);
  const [, go] = useLocation();
  const question = useQuery(ticketQuestion(id, address));
  useTitle(question.data ? words.titleOf(question.data.chamber.name) : words.ticket);
  const settled = question.data?.permalink;
  const open = address.from === '' || address.to === '';
  useEffect(() => {
    // The span that was found becomes the address, so that what is copied is this ticket and no later one.
    if (open && settled && !question.isPlaceholderData) go(settled, { replace: true });
  }, [open, settled, question.isPlaceholderData, go]);
  if (question.data) return <TheTicket ticket={question.data} />;
  if (isMissing(question.error)) return <NotFound sentence={(question.error as Error).message} />;
  if (isImpossible(question.error)) return <Impossible error={question.error} chamber={id} />;
  return (
    <Section className="head" margin={words.ticket}>
      <Answered question={question} what={words.what} lines={8} page>
        {() => null}
      </Answered>
    </Section>
  );
}

function Impossible({ error, chamber }: { readonly error: RefusedError; readonly chamber: string }) {
  return (
    <Head margin={words.ticket}>
      <h1 className="verdict">{words.impossible}</h1>
      {error.problem?.errors?.map(({ path, problem }) => (
        <p key={path} className="say">
          {words.fault(path, problem)}
        </p>
      ))}
      <p className="facts">
        {words.askShorter} <Link href={`/chambers/${encodeURIComponent(chamber)}`}>{words.backToChamber}</Link>
      </p>
    </Head>
  );
}

const verdictOf = ({ alert, alerts, scans }: TicketSheet): string => {
  if (alert) return alert.summary;
  if (scans === 0) return words.noScan;
  return alerts.length === 0 ? words.noAlert : words.alertsStood(alerts.length);
};

function TheTicket({ ticket }: { readonly ticket: TicketSheet }) {
  const { chamber, alert, unit } = ticket;
  const zone = chamber.timeZone;
  const span = words.span(stamp(ticket.from, zone), stamp(ticket.to, zone), zoneCity(zone));
  return (
    <div className="ticket">
      <Head
        margin={
          <>
            {alert ? <p className={`pri ${alert.priority}`}>{PRIORITY_WORD[alert.priority]}</p> : null}
            <p>{alert ? alert.state : words.ticket}</p>
          </>
        }
        flag={alert ? <Flag priority={alert.priority} state={alert.state} scale={2.1} onRule /> : null}
      >
        <div className="where">
          <b>{chamber.name}</b>
          <span className="note">{words.about(`${ticket.site}, ${chamber.areaName}`, ticket.analyser)}</span>
        </div>
        <h1 className="verdict">{sentenceIn(verdictOf(ticket), unit)}</h1>
        <p className="facts">
          <span>{span}</span>
          <span>{words.scans(ticket.scans)}</span>
        </p>
        {alert ? <FourAnswers alert={alert} unit={unit} /> : null}
        <Actions ticket={ticket} />
      </Head>
      {alert ? (
        <Section className="sec" margin={<HowToReadEvidence />}>
          <h2>{words.evidence}</h2>
          <EvidenceTable evidence={alert.evidence} unit={unit} />
        </Section>
      ) : null}
      <AlsoStood ticket={ticket} />
      <Section className="sec" margin={words.pictureMargin}>
        <h2>{words.trend}</h2>
        <Picture ticket={ticket} span={span} />
      </Section>
      <Section className="sec" margin={words.numbersMargin(unit)}>
        <h2>{words.numbers}</h2>
        <GasNumbers gases={ticket.gases} unit={unit} />
      </Section>
      <Gaps ticket={ticket} />
      <WhatWasDone ticket={ticket} />
      <Notes ticket={ticket} />
      <InForce ticket={ticket} />
      <Cautions ticket={ticket} />
      <TicketFoot ticket={ticket} />
    </div>
  );
}

/** The file's own bytes: what is seen here is what lies in the zip. */
function Picture({ ticket, span }: { readonly ticket: TicketSheet; readonly span: string }) {
  const { picture, chamber, gases, unit } = ticket;
  const named = gases.map(({ name }) => name).join(', ');
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: on a narrow screen it scrolls in itself
    <div className="ticket-picture" tabIndex={0}>
      <img
        src={`data:image/svg+xml;charset=utf-8,${encodeURIComponent(picture)}`}
        alt={words.pictureSays(chamber.name, span, named, unit)}
      />
    </div>
  );
}

function Actions({ ticket }: { readonly ticket: TicketSheet }) {
  const { file, chamber, alert } = ticket;
  const zip = useRef<HTMLAnchorElement>(null);
  const [, go] = useLocation();
  const back = alert ? `/alerts/${encodeURIComponent(alert.id)}` : `/chambers/${encodeURIComponent(chamber.id)}`;
  useKeys({ t: () => zip.current?.click(), escape: () => go(back) });
  return (
    <div className="does">
      <button type="button" className="main" onClick={() => window.print()}>
        {words.print}
      </button>
      <a ref={zip} className="btn" href={file.path} download={file.name}>
        {words.download} <Key name="t" />
      </a>
      <Link className="btn" href={back}>
        {alert ? words.backToAlert : words.backToChamber} <Key name="Esc" />
      </Link>
      <span className="note">{words.zipHolds}</span>
    </div>
  );
}
