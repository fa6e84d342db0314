import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import { alertQuestion, roundQuestion } from '../api/questions.ts';
import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { clockTimeSeconds, withLocalTimes } from '../notation/time.ts';
import { SIGNATURE_TITLE } from '../notation/words.ts';
import { words } from '../strings/underway.ts';
import { forgetUnderway, type Underway, useLeftOver } from './underway.ts';

/** Above every page: what was refused or not sent when its form went away, until the person has seen to it. */
export function UnsentNotes() {
  const left = useLeftOver();
  return left.map((one) => <Unsent key={`${one.kind} ${one.alert}`} unsent={one} />);
}

function Unsent({ unsent: { alert, kind, note, refused } }: { readonly unsent: Underway }) {
  const zone = useZone();
  const { data } = useQuery(alertQuestion(alert));
  const name = useChamberName(data?.chamber);
  const first = data?.acknowledged && kind === 'acknowledge' ? data.acknowledged : null;
  const why =
    refused !== null
      ? withLocalTimes(refused, zone, nowMs())
      : first
        ? words.othersFirst(first.by, clockTimeSeconds(Date.parse(first.at), zone))
        : words.notSent;
  return (
    <div className="bar unsent" role="status">
      <span>
        <b>{words.notDone[kind]}</b> {data ? `${words.about(SIGNATURE_TITLE[data.signature], name)}. ` : ''}
        {why} {note === '' ? '' : words.kept(note)}
      </span>
      <Link className="btn" href={`/alerts/${encodeURIComponent(alert)}`}>
        {words.open}
      </Link>
      {note === '' ? null : <CopyWords note={note} />}
      <button type="button" onClick={() => forgetUnderway(alert, kind)}>
        {note === '' ? words.seen : words.letGo}
      </button>
    </div>
  );
}

function useChamberName(id: string | undefined): string {
  const { data: round } = useQuery(roundQuestion);
  const line = round?.areas.flatMap(({ chambers }) => chambers).find((one) => one.id === id);
  return line?.name ?? id ?? '';
}

function CopyWords({ note }: { readonly note: string }) {
  const [copied, setCopied] = useState(false);
  const copy = () => navigator.clipboard?.writeText(note).then(() => setCopied(true));
  // Without https there is no clipboard: the words can be selected where they stand.
  if (!navigator.clipboard) return null;
  return (
    <button type="button" onClick={() => void copy()}>
      {copied ? words.copied : words.copy}
    </button>
  );
}
