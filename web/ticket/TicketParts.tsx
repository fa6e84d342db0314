import { Link } from 'wouter';
import type { TicketSheet } from '../../shared/contract/ticket.ts';
import { moveSaid } from '../alerts/LifeLine.tsx';
import { Gate } from '../frame/Brand.tsx';
import { Section } from '../frame/Section.tsx';
import { duration } from '../notation/age.ts';
import { sentenceIn } from '../notation/sentence.ts';
import { PRIORITY_WORD, SIGNATURE_TITLE } from '../notation/words.ts';
import { words } from '../strings/ticket.ts';
import { stamp } from './stamp.ts';

interface Part {
  readonly ticket: TicketSheet;
}

const lengthOf = ({ from, to }: TicketSheet['gaps'][number]): number => (Date.parse(to) - Date.parse(from)) / 1000;

/** What is not there is said first: a line that looks whole may be half of the time. */
export function Gaps({ ticket }: Part) {
  const { gaps, chamber, scans } = ticket;
  const zone = chamber.timeZone;
  const all = gaps.reduce((sum, gap) => sum + lengthOf(gap), 0);
  return (
    <Section className="sec" margin={gaps.length > 1 ? words.gapsSum(gaps.length, duration(all)) : undefined}>
      <h2>{words.gaps}</h2>
      {scans === 0 ? <p>{words.noScan}</p> : null}
      {scans > 0 && gaps.length === 0 ? <p>{words.noGaps}</p> : null}
      <ul className="plain-list">
        {gaps.map((gap) => (
          <li key={gap.from}>{words.gap(stamp(gap.from, zone), stamp(gap.to, zone), duration(lengthOf(gap)))}</li>
        ))}
      </ul>
    </Section>
  );
}

/** Without an alert of its own the ticket names those that stood; with one, the others. */
export function AlsoStood({ ticket }: Part) {
  const others = ticket.alerts.filter(({ id }) => id !== ticket.alert?.id);
  if (others.length === 0) return null;
  return (
    <Section className="sec">
      <h2>{words.alsoStood}</h2>
      <ul className="plain-list">
        {others.map((alert) => (
          <li key={alert.id}>
            <Link href={`/alerts/${encodeURIComponent(alert.id)}`}>
              {SIGNATURE_TITLE[alert.signature]}, {PRIORITY_WORD[alert.priority]}, {alert.state}
            </Link>
            <span className="note"> {stamp(alert.raisedAt, ticket.chamber.timeZone)}</span>
            <p className="say">{sentenceIn(alert.summary, ticket.unit)}</p>
          </li>
        ))}
      </ul>
    </Section>
  );
}

export function WhatWasDone({ ticket: { alert, chamber } }: Part) {
  if (alert === null || alert.moves.length === 0) return null;
  return (
    <Section className="sec">
      <h2>{words.done}</h2>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls in itself and must be reachable by keyboard */}
      <section className="scrolls" tabIndex={0} aria-label={words.done}>
        <table>
          <thead>
            <tr>
              <th scope="col">{words.when}</th>
              <th scope="col">{words.who}</th>
              <th scope="col">{words.move}</th>
              <th scope="col">{words.state}</th>
              <th scope="col">{words.note}</th>
            </tr>
          </thead>
          <tbody>
            {alert.moves.map((move) => (
              <tr key={`${move.at} ${move.move} ${move.to}`}>
                <th scope="row" className="when">
                  {stamp(move.at, chamber.timeZone)}
                </th>
                <td>{move.by ?? words.theWatch}</td>
                <td>{moveSaid(move.move)}</td>
                <td>{move.to}</td>
                <td className="free">{move.note}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </Section>
  );
}

/** What people did or saw at moments of the span; one that was taken back stays readable. */
export function Notes({ ticket: { notes, chamber } }: Part) {
  if (notes.length === 0) return null;
  const when = (instant: string) => stamp(instant, chamber.timeZone);
  return (
    <Section className="sec" margin={words.notesMargin}>
      <h2>{words.notes}</h2>
      <ul className="plain-list">
        {notes.map(({ id, at, text, madeBy, madeAt, withdrawnBy, withdrawnAt }) => (
          <li key={id}>
            {words.noteAt(when(at), text)}
            <span className="note">
              {' '}
              {words.noteBy(madeBy, when(madeAt))}
              {withdrawnAt === null ? '' : ` ${words.noteWithdrawn(withdrawnBy ?? '', when(withdrawnAt))}`}
            </span>
          </li>
        ))}
      </ul>
    </Section>
  );
}

/** With what the readings were worked out: whoever doubts a number begins here. */
export function InForce({ ticket }: Part) {
  const listed = (versions: readonly string[]) => (versions.length === 0 ? words.none : versions.join(', '));
  return (
    <Section className="sec">
      <h2>{words.inForce}</h2>
      <dl className="asked">
        <div>
          <dt>{words.calibration}</dt>
          <dd>
            <span className="code">{listed(ticket.calibrationVersions)}</span>
            {ticket.calibrations.map((sentence) => (
              <p key={sentence}>{sentenceIn(sentence, ticket.unit)}</p>
            ))}
          </dd>
        </div>
        <div>
          <dt>{words.catalogue}</dt>
          <dd className="code">{listed(ticket.catalogueVersions)}</dd>
        </div>
        <div>
          <dt>{words.software}</dt>
          <dd className="code">{words.ullage(ticket.version)}</dd>
        </div>
      </dl>
    </Section>
  );
}

export function Cautions({ ticket }: Part) {
  return (
    <Section className="sec">
      <div className="caution">
        <Gate />
        <b>{words.cautions}</b>
        <ul>
          {ticket.cautions.map((caution) => (
            <li key={caution}>{sentenceIn(caution, ticket.unit)}</li>
          ))}
        </ul>
      </div>
    </Section>
  );
}
