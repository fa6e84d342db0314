import type { AlertMove } from '../../shared/contract/alerts.ts';
import type { AlertState } from '../../shared/contract/words.ts';
import type { AlertWithLife } from '../api/shapes.ts';
import { nowMs } from '../frame/clock.ts';
import { Flag } from '../frame/Flag.tsx';
import { useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { words } from '../strings/alertMoves.ts';

/** What may come next, so that nobody has to know the standard by heart. */
const NEXT: Readonly<Record<AlertState, readonly (readonly [AlertState, string])[]>> = {
  unacknowledged: [
    ['acknowledged', words.somebodyKnowsTheConditionGoes],
    ['returned-unacknowledged', words.backToUsualBeforeAnybody],
  ],
  acknowledged: [['normal', words.backToUsualOrClosed]],
  'returned-unacknowledged': [['normal', words.acknowledgedAndOver]],
  shelved: [['unacknowledged', words.atTheSetTime]],
  suppressed: [['unacknowledged', words.whenTheStateEnds]],
  'out-of-service': [['unacknowledged', words.whenItIsPutBack]],
  normal: [],
};

/** A latched alert goes on waiting when its condition has gone: only a person ends it. */
const nextOf = ({ latched, state }: AlertWithLife): (typeof NEXT)[AlertState] =>
  latched && state === 'acknowledged' ? [['normal', words.backToUsualAndReset]] : NEXT[state];

/** Moves as they are said afterwards. */
const MOVE_SAID: Readonly<Record<string, string>> = {
  raise: 'raised',
  're-raise': words.raisedAgain,
  return: words.returnedToUsual,
  priority: words.priorityChanged,
  acknowledge: 'acknowledged',
  shelve: 'shelved',
  unshelve: words.takenBack,
  close: 'closed',
  're-alarm': words.askedAgain,
  reset: 'reset',
  suppress: 'suppressed',
  unsuppress: words.noLongerSuppressed,
  'out-of-service': words.takenOutOfService,
  'return-to-service': words.returnedToService,
};

export const moveSaid = (move: string): string => MOVE_SAID[move] ?? move;

/** The state is said when the move does not say it already. */
const stateSaid = (state: AlertState, said: string): string =>
  state === said || (state === 'out-of-service' && said === MOVE_SAID['out-of-service'])
    ? ''
    : `, ${state === 'normal' ? 'over' : state}`;

/** Every move of an alert, drawn along a staff; what may come next stands below in grey. */
export function LifeLine({ alert }: { readonly alert: AlertWithLife }) {
  const moves = [...alert.moves].sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  return (
    <ol className="life">
      {moves.map((move) => (
        <MoveLine key={`${move.at} ${move.move} ${move.from} ${move.to}`} alert={alert} move={move} />
      ))}
      {nextOf(alert).map(([state, text]) => (
        <li key={state} className="fut">
          <Sign alert={alert} state={state} />
          <b>{words.next}</b> {state === 'normal' ? words.over : state}
          <br />
          <span className="note">{text}</span>
        </li>
      ))}
    </ol>
  );
}

function Sign({ alert, state }: { readonly alert: AlertWithLife; readonly state: AlertState }) {
  return state === 'normal' ? <i className="knot" /> : <Flag priority={alert.priority} state={state} scale={1.3} />;
}

function MoveLine({ alert, move }: { readonly alert: AlertWithLife; readonly move: AlertMove }) {
  const zone = useZone();
  const moves = move.from !== move.to;
  return (
    <li>
      {moves ? <Sign alert={alert} state={move.to} /> : <i className="knot" />}
      <b>{moment(Date.parse(move.at), zone, nowMs())}</b> {moveSaid(move.move)}
      {moves ? stateSaid(move.to, MOVE_SAID[move.move] ?? '') : ''}
      <br />
      <span className="note">
        {move.by ?? words.byTheWatch}
        {move.note ? `: “${move.note}”` : ''}
      </span>
    </li>
  );
}
