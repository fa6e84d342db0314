import type { AlertMove } from '../../shared/contract/alerts.ts';
import type { AlertState } from '../../shared/contract/words.ts';
import type { AlertWithLife } from '../api/shapes.ts';
import { nowMs } from '../frame/clock.ts';
import { Flag } from '../frame/Flag.tsx';
import { useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';

/** What may come next, so that nobody has to know the standard by heart. */
const NEXT: Readonly<Record<AlertState, readonly (readonly [AlertState, string])[]>> = {
  unacknowledged: [
    ['acknowledged', 'somebody knows; the condition goes on'],
    ['returned-unacknowledged', 'back to usual before anybody has seen it'],
  ],
  acknowledged: [['normal', 'back to usual, or closed with its cause']],
  'returned-unacknowledged': [['normal', 'acknowledged, and over']],
  shelved: [['unacknowledged', 'at the set time, if the condition still stands']],
  suppressed: [['unacknowledged', 'when the state ends, if the condition still stands']],
  'out-of-service': [['unacknowledged', 'when it is put back into service']],
  normal: [],
};

/** A latched alert goes on waiting when its condition has gone: only a person ends it. */
const nextOf = ({ latched, state }: AlertWithLife): (typeof NEXT)[AlertState] =>
  latched && state === 'acknowledged' ? [['normal', 'back to usual and reset by a person, or closed']] : NEXT[state];

/** Moves as they are said afterwards. */
const MOVE_SAID: Readonly<Record<string, string>> = {
  raise: 'raised',
  're-raise': 'raised again',
  return: 'returned to usual',
  priority: 'priority changed',
  acknowledge: 'acknowledged',
  shelve: 'shelved',
  unshelve: 'taken back',
  close: 'closed',
  're-alarm': 'asked again',
  reset: 'reset',
  suppress: 'suppressed',
  unsuppress: 'no longer suppressed',
  'out-of-service': 'taken out of service',
  'return-to-service': 'returned to service',
};

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
          <b>next</b> {state === 'normal' ? 'over' : state}
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
      <b>{moment(Date.parse(move.at), zone, nowMs())}</b> {MOVE_SAID[move.move] ?? move.move}
      {moves ? stateSaid(move.to, MOVE_SAID[move.move] ?? '') : ''}
      <br />
      <span className="note">
        {move.by ?? 'by the watch'}
        {move.note ? `: “${move.note}”` : ''}
      </span>
    </li>
  );
}
