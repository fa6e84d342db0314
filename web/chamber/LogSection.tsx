import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { Alert } from '../../shared/contract/alerts.ts';
import { statesQuestion } from '../api/questions.ts';
import type { StateSpan } from '../api/shapes.ts';
import { nowMs } from '../frame/clock.ts';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useUnit, useZone } from '../frame/site.ts';
import { sentenceIn } from '../notation/sentence.ts';
import { moment } from '../notation/time.ts';
import { PRIORITY_WORD, SIGNATURE_TITLE } from '../notation/words.ts';
import { RANGE_SECONDS } from './address.ts';
import type { ChamberParts } from './parts.ts';

export interface LogLine {
  readonly at: number;
  readonly text: string;
  readonly alert: string | null;
}

const LONGEST_LOG = 40;

function alertLines(alert: Alert): LogLine[] {
  const name = `${SIGNATURE_TITLE[alert.signature]}, ${PRIORITY_WORD[alert.priority]}`;
  const line = (at: string | null | undefined, text: string): LogLine[] =>
    at ? [{ at: Date.parse(at), text, alert: alert.id }] : [];
  const { acknowledged, closed } = alert;
  return [
    ...line(alert.raisedAt, `${name}: raised. ${alert.summary}`),
    ...line(acknowledged?.at, `${name}: acknowledged by ${acknowledged?.by}${quoted(acknowledged?.note)}`),
    ...line(alert.returnedAt, `${name}: back to usual.`),
    ...line(closed?.at, `${name}: closed by ${closed?.by}, cause ${closed?.cause}${quoted(closed?.note)}`),
  ];
}

const quoted = (note: string | undefined): string => (note ? `: “${note}”` : '.');

/** States, alerts and what people did, newest first. */
export function logOf(alerts: readonly Alert[], states: readonly StateSpan[], fromMs: number): LogLine[] {
  const stateLines = states.map(({ from, state }) => ({
    at: Date.parse(from),
    text: `State: ${state}, as reported.`,
    alert: null,
  }));
  return [...alerts.flatMap(alertLines), ...stateLines]
    .filter(({ at }) => at >= fromMs)
    .sort((a, b) => b.at - a.at)
    .slice(0, LONGEST_LOG);
}

export function LogSection({ chamber, alerts }: ChamberParts) {
  const zone = useZone();
  const unit = useUnit();
  const question = useQuery(statesQuestion(chamber.id, { lastSeconds: RANGE_SECONDS['7d'] }, nowMs));
  const now = nowMs();
  return (
    <Section className="sec" margin="seven days, newest first">
      <h2>Log</h2>
      <Answered question={question} what="The states">
        {({ spans }) => {
          const lines = logOf(alerts, spans, now - RANGE_SECONDS['7d'] * 1000);
          if (lines.length === 0) return <p className="note">Nothing has been reported or raised in seven days.</p>;
          return (
            <ol className="log">
              {lines.map(({ at, text, alert }) => (
                <li key={`${at} ${text}`}>
                  <span>{moment(at, zone, now)}</span>
                  <span>
                    {alert ? <Link href={`/alerts/${encodeURIComponent(alert)}`}>{sentenceIn(text, unit)}</Link> : text}
                  </span>
                </li>
              ))}
            </ol>
          );
        }}
      </Answered>
    </Section>
  );
}
