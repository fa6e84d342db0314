import { useRef, useState } from 'react';
import { Link } from 'wouter';
import type { HandoverEntry } from '../../shared/contract/handover.ts';
import { closeEntry } from '../api/roundMoves.ts';
import { useNow } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { words } from '../strings/handover.ts';
import { LineField, MoveForm } from './MoveForm.tsx';
import { useRoundMove } from './useRoundMove.ts';

interface EntryItemProps {
  readonly entry: HandoverEntry;
  /** The area, where several are on the page and the entry is about none of the chambers. */
  readonly area?: string | undefined;
  /** Stands on its chamber's own page: the name is known, and what kind it is has to be said. */
  readonly here?: boolean;
  readonly mayClose: boolean;
  /** As it stood at this time, when it is shown as it was signed. */
  readonly asOf?: number | undefined;
}

const MINUTE_S = 60;

/** One entry of the handover, in the writer's words, with who wrote it and who may wait for it. */
export function EntryItem({ entry, area, here = false, mayClose, asOf }: EntryItemProps) {
  const [closing, setClosing] = useState(false);
  const item = useRef<HTMLLIElement>(null);
  const zone = useZone();
  const clock = useNow(MINUTE_S);
  const now = asOf ?? clock;
  const at = (instant: string) => moment(Date.parse(instant), zone, clock);
  const late = entry.dueAt !== null && Date.parse(entry.dueAt) <= now && entry.doneAt === null;
  const cancel = () => {
    setClosing(false);
    item.current?.querySelector('button')?.focus();
  };
  return (
    <li ref={item} className="entry">
      <p>
        {here ? (
          <b>{words.entryKinds[entry.kind]} </b>
        ) : entry.chamber ? (
          <>
            <Link href={`/chambers/${encodeURIComponent(entry.chamber)}`}>
              {entry.chamberName ?? entry.chamber}
            </Link>{' '}
          </>
        ) : area ? (
          <b>{area} </b>
        ) : null}
        <span className="written">{entry.text}</span>
      </p>
      <p className="note">
        {entry.dueAt === null ? null : (
          <span className={late ? 'late' : undefined}>
            {late ? words.wasDue(at(entry.dueAt)) : words.due(at(entry.dueAt))}
          </span>
        )}
        <span>{words.written(entry.by, at(entry.at))}</span>
        {entry.doneAt ? (
          <span>
            {entry.doneNote
              ? words.closedWith(entry.doneBy ?? '', at(entry.doneAt), entry.doneNote)
              : words.closedBy(entry.doneBy ?? '', at(entry.doneAt))}
          </span>
        ) : null}
      </p>
      {mayClose && entry.doneAt === null && !closing ? (
        <button type="button" className="quiet" aria-label={words.closeOf(entry.text)} onClick={() => setClosing(true)}>
          {words.close}
        </button>
      ) : null}
      {closing ? <CloseForm entry={entry.id} cancel={cancel} /> : null}
    </li>
  );
}

function CloseForm({ entry, cancel }: { readonly entry: string; readonly cancel: () => void }) {
  const [note, setNote] = useState('');
  const move = useRoundMove(() => closeEntry(entry, note.trim()), cancel);
  return (
    <MoveForm move={move} act={words.closeIt} acting={words.closing} cancel={cancel}>
      <LineField label={words.closeNote} value={note} write={setNote} most={1000} />
    </MoveForm>
  );
}
