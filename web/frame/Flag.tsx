import type { AlertState, Priority } from '../../shared/contract/words.ts';

/** Shape says priority. */
const CLOTH: Readonly<Record<Priority, string>> = {
  high: 'M2 0H19L13.6 5L19 10H2Z',
  medium: 'M2 0L15.5 5L2 10Z',
  low: 'M2 1H8.6V9H2Z',
};
/** Length of the rolled cloth. */
const ROLL: Readonly<Record<Priority, number>> = { high: 13.5, medium: 11, low: 8.5 };
/** How far a cloth is lowered when the condition has gone and nobody has seen it. */
const LOWERED = 8;

function Cloth({ priority, state }: { readonly priority: Priority; readonly state: AlertState }) {
  if (state === 'normal' || state === 'out-of-service') return null;
  if (state === 'shelved' || state === 'suppressed') {
    const r = ROLL[priority];
    return (
      <>
        <path className={`fl-furl ${priority} ${state}`} d={`M2 .6H6.2Q7.4 .6 7.4 2V${r - 1.4}Q7.4 ${r} 6.2 ${r}H2Z`} />
        <path className="fl-tie" d={`M1.8 ${(r * 0.36).toFixed(1)}H8M1.8 ${(r * 0.7).toFixed(1)}H8`} />
      </>
    );
  }
  const drop = state === 'returned-unacknowledged' ? LOWERED : 0;
  return (
    <path
      className={`fl-cloth ${priority}${state === 'acknowledged' ? ' open' : ''}`}
      d={CLOTH[priority]}
      transform={`translate(0 ${drop + 0.5})`}
    />
  );
}

interface FlagProps {
  readonly priority: Priority;
  readonly state: AlertState;
  readonly scale?: number;
  /** Flies from the page's rule: mirrored, without a staff of its own. */
  readonly onRule?: boolean;
  /** Slides out once, because the alert is new on this page. */
  readonly hoist?: boolean;
}

/** A sign that never stands without its word: the word is beside it, so the drawing is hidden from readers. */
export function Flag({ priority, state, scale = 1, onRule = false, hoist = false }: FlagProps) {
  if (state === 'normal') return null;
  const bare = state === 'out-of-service';
  const drawing = (
    <>
      {onRule && !bare ? null : <path className="fl-staff" d="M1.25 0V20" strokeDasharray={bare ? '2 2' : undefined} />}
      <Cloth priority={priority} state={state} />
    </>
  );
  return (
    <svg
      className={`flag${onRule ? ' on-rule' : ''}${hoist ? ' hoist' : ''}`}
      width={(onRule ? 20 : 22) * scale}
      height={21 * scale}
      viewBox={onRule ? '0 0 20 21' : '-1 0 22 21'}
      aria-hidden="true"
    >
      {onRule ? <g transform="translate(21.5 0) scale(-1 1)">{drawing}</g> : drawing}
    </svg>
  );
}
