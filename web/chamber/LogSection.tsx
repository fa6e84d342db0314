import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { Alert } from '../../shared/contract/alerts.ts';
import type { ChamberNote } from '../../shared/contract/chamberNotes.ts';
import { Refused } from '../alerts/AcknowledgeForm.tsx';
import { refusalText } from '../alerts/useMove.ts';
import { statesQuestion } from '../api/questions.ts';
import type { StateSpan } from '../api/shapes.ts';
import { nowMs } from '../frame/clock.ts';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useMay, useUnit, useZone } from '../frame/site.ts';
import { sentenceIn } from '../notation/sentence.ts';
import { moment } from '../notation/time.ts';
import { PRIORITY_WORD, SIGNATURE_TITLE } from '../notation/words.ts';
import { words as says } from '../strings/chamber.ts';
import { words as noteWords } from '../strings/crossHair.ts';
import { RANGE_SECONDS } from './address.ts';
import { notesQuestion, withdrawNote } from './notes.ts';
import type { ChamberParts } from './parts.ts';

export interface LogLine {
  readonly at: number;
  readonly text: string;
  readonly alert: string | null;
  /** A note that can be withdrawn. */
  readonly note?: string | null;
}

const LONGEST_LOG = 40;

function alertLines(alert: Alert): LogLine[] {
  const name = `${SIGNATURE_TITLE[alert.signature]}, ${PRIORITY_WORD[alert.priority]}`;
  const line = (at: string | null | undefined, text: string): LogLine[] =>
    at ? [{ at: Date.parse(at), text, alert: alert.id }] : [];
  const { acknowledged, closed } = alert;
  return [
    ...line(alert.raisedAt, says.logRaised(name, alert.summary)),
    ...(acknowledged ? line(acknowledged.at, says.acknowledgedBy(name, acknowledged.by, acknowledged.note)) : []),
    ...line(alert.returnedAt, says.backToUsual(name)),
    ...(closed ? line(closed.at, says.closedBy(name, closed.by, closed.cause, closed.note)) : []),
  ];
}

const noteLines = (notes: readonly ChamberNote[]): LogLine[] =>
  notes.map((note) => ({
    at: Date.parse(note.at),
    text:
      note.withdrawnBy === null
        ? noteWords.notesBy(note.text, note.madeBy)
        : noteWords.withdrawnNote(note.text, note.madeBy, note.withdrawnBy),
    alert: null,
    note: note.withdrawnAt === null ? note.id : null,
  }));

interface Logged {
  readonly alerts: readonly Alert[];
  readonly states: readonly StateSpan[];
  readonly notes?: readonly ChamberNote[];
}

/** States, alerts, notes and what people did, newest first. */
export function logOf({ alerts, states, notes = [] }: Logged, fromMs: number): LogLine[] {
  const stateLines = states.map(({ from, state }) => ({
    at: Date.parse(from),
    text: says.stateAsReported(state),
    alert: null,
  }));
  return [...alerts.flatMap(alertLines), ...stateLines, ...noteLines(notes)]
    .filter(({ at }) => at >= fromMs)
    .sort((a, b) => b.at - a.at)
    .slice(0, LONGEST_LOG);
}

export function LogSection({ chamber, alerts }: ChamberParts) {
  const zone = useZone();
  const unit = useUnit();
  const question = useQuery(statesQuestion(chamber.id, { lastSeconds: RANGE_SECONDS['7d'] }, nowMs));
  const { data } = useQuery(notesQuestion(chamber.id, { lastSeconds: RANGE_SECONDS['7d'] }, nowMs));
  const notes = data?.notes ?? [];
  const now = nowMs();
  return (
    <Section className="sec" margin={says.sevenDaysNewestFirst}>
      <h2>{says.log}</h2>
      <Answered question={question} what={says.theStates}>
        {({ spans }) => {
          const lines = logOf({ alerts, states: spans, notes }, now - RANGE_SECONDS['7d'] * 1000);
          if (lines.length === 0) return <p className="note">{says.nothingHasBeenReported}</p>;
          return (
            <ol className="log">
              {lines.map(({ at, text, alert, note }) => (
                <li key={`${at} ${text}`}>
                  <span>{moment(at, zone, now)}</span>
                  <span>
                    {alert ? <Link href={`/alerts/${encodeURIComponent(alert)}`}>{sentenceIn(text, unit)}</Link> : text}
                    {note ? <Withdraw chamber={chamber.id} note={note} /> : null}
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

/** A note that was wrong: it stays in the log with who took it back. */
function Withdraw({ chamber, note }: { readonly chamber: string; readonly note: string }) {
  const may = useMay('operator');
  const client = useQueryClient();
  const withdrawal = useMutation({
    mutationFn: () => withdrawNote(chamber, note),
    onSettled: () => client.invalidateQueries({ queryKey: ['chamber', chamber, 'notes'] }),
  });
  if (!may) return null;
  return (
    <>
      {' '}
      <button type="button" className="quiet" disabled={withdrawal.isPending} onClick={() => withdrawal.mutate()}>
        {noteWords.withdraw}
      </button>
      <Refused text={withdrawal.error ? refusalText(withdrawal.error) : null} />
    </>
  );
}
