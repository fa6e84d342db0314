import { useQuery } from '@tanstack/react-query';
import type { NewRehearsal, Rehearsal } from '../../shared/contract/rehearsal.ts';
import { Sending } from '../alerts/AcknowledgeForm.tsx';
import { askRehearsal } from '../api/alarmMoves.ts';
import { rehearsalQuestion } from '../api/alarmQuestions.ts';
import { roundQuestion } from '../api/questions.ts';
import { nowMs } from '../frame/clock.ts';
import { Answered } from '../frame/PageState.tsx';
import { useZone } from '../frame/site.ts';
import { Refusal } from '../measurement/Field.tsx';
import { useSending } from '../measurement/useSending.ts';
import { moment } from '../notation/time.ts';
import { words as all } from '../strings/rehearsal.ts';
import { RehearsedDifferences } from './RehearsedDifferences.tsx';
import { isSame, loadSentence, rehearsalSentence, sameSubject } from './words.ts';

const words = all.rehearsalPanel;

export const REHEARSED_DAYS = 90;

interface RehearsalPanelProps {
  /** What is to be tried; null: it cannot be asked as it stands. */
  readonly request: NewRehearsal | null;
  /** Why it cannot. */
  readonly because?: string;
  /** Of the rehearsal that is shown; empty: none. */
  readonly id: string;
  readonly show: (id: string) => void;
  readonly word?: string;
}

/** Try on the past before it is saved: what would have been raised, and what would not. */
export function RehearsalPanel({ request, because, id, show, word }: RehearsalPanelProps) {
  const question = useQuery(rehearsalQuestion(id === '' ? null : id));
  const sending = useSending(undefined, ['rehearsal']);
  const run = () => {
    if (request) sending.run(async () => show((await askRehearsal(request)).id));
  };
  const waiting = question.data?.state === 'waiting';
  const asked = question.data?.request.change;
  const isMine = request === null || asked === undefined || sameSubject(request.change, asked);
  const other = asked !== undefined && request !== null && !isSame(request.change, asked);
  return (
    <div className="rehearsal" aria-live="polite">
      <div className="does">
        <button type="button" disabled={request === null || sending.busy || (waiting && !other)} onClick={run}>
          {sending.busy ? <Sending word={words.asking} /> : (word ?? words.rehearseOnTheLast(REHEARSED_DAYS))}
        </button>
        <span className="note">{request === null ? because : words.workedOutFromThe}</span>
      </div>
      <Refusal sending={sending} />
      {id === '' || !isMine ? null : (
        <Answered question={question} what={words.theRehearsal} lines={2}>
          {(rehearsal) => (
            <>
              {other ? <p className="note">{words.whatFollowsWasRehearsed}</p> : null}
              <TheRehearsal rehearsal={rehearsal} />
            </>
          )}
        </Answered>
      )}
    </div>
  );
}

function TheRehearsal({ rehearsal }: { readonly rehearsal: Rehearsal }) {
  const zone = useZone();
  const { data: round } = useQuery(roundQuestion);
  const names = new Map(round?.areas.flatMap(({ chambers }) => chambers.map(({ id, name }) => [id, name] as const)));
  const nameOf = (chamber: string) => names.get(chamber) ?? chamber;
  const load = loadSentence(rehearsal);
  const failed = rehearsal.chambers.filter(({ state }) => state === 'failed');
  return (
    <div className="rehearsed">
      <p className="say">
        {rehearsal.state === 'waiting' ? <i className="pulse" /> : null}
        {rehearsalSentence(rehearsal)}
      </p>
      {load ? <p className="so-say">{load}</p> : null}
      <p className="note">{words.askedBy(rehearsal.askedBy, moment(Date.parse(rehearsal.askedAt), zone, nowMs()))}</p>
      {failed.map(({ chamber, problem }) => (
        <p className="refused" key={chamber}>
          {words.couldNotBeWorked(nameOf(chamber), problem ? `: ${problem}` : '.')}
        </p>
      ))}
      <RehearsedDifferences rehearsal={rehearsal} nameOf={nameOf} />
    </div>
  );
}
