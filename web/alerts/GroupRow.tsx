import type { Alert, AlertGroup } from '../../shared/contract/alerts.ts';
import { nowMs } from '../frame/clock.ts';
import { Flag } from '../frame/Flag.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useZone } from '../frame/site.ts';
import { capital, listed, several } from '../notation/sentence.ts';
import { moment } from '../notation/time.ts';
import { PRIORITY_WORD, SIGNATURE_TITLE } from '../notation/words.ts';
import { words } from '../strings/alertList.ts';
import { mayAcknowledge } from './moves.ts';

interface GroupRowProps {
  readonly group: AlertGroup;
  /** How many of it are on this list. */
  readonly shown: number;
  /** The weightiest member says how the flag flies. */
  readonly state: Alert['state'];
  readonly open: boolean;
  readonly toggle: () => void;
  readonly selected?: boolean;
  /** What the members are called here: alerts, or chambers. */
  readonly noun?: string;
}

export const groupTitle = ({ kind, signature }: AlertGroup): string =>
  signature !== null ? SIGNATURE_TITLE[signature] : kind === 'flood' ? words.manyAtOnce : words.together;

/** Chambers that share a cause are said once; the entry opens to them. */
export function GroupRow({ group, shown, state, open, toggle, selected = false, noun = 'alert' }: GroupRowProps) {
  const zone = useZone();
  const now = nowMs();
  const row = (element: HTMLElement | null) => {
    if (selected) element?.scrollIntoView({ block: 'nearest' });
  };
  const title = groupTitle(group);
  // On the round it stands under the heading of an area.
  const Title = noun === 'chamber' ? 'h3' : 'h2';
  return (
    <article
      ref={row}
      className={`blk row alertrow together${selected ? ' sel' : ''}`}
      aria-label={words.togetherSpoken(PRIORITY_WORD[group.priority], title, group.chambers.length)}
    >
      <div className="m">
        <Flag priority={group.priority} state={state} scale={1.45} onRule />
        <div className="txt">
          <p className={`pri ${group.priority}`}>{PRIORITY_WORD[group.priority]}</p>
          <p>{group.kind === 'flood' ? words.manyAtOnceSmall : words.oneCause}</p>
          <p>{group.open === 0 ? words.nobodyIsNeeded : words.needAPerson(group.open)}</p>
        </div>
      </div>
      <div className="c">
        <div className="who">
          <Title>{title}</Title>
          <span className="note">{words.chambersTogether(group.chambers.length, listed(group.shared))}</span>
          <span className="note">
            {spanSaid(moment(Date.parse(group.from), zone, now), moment(Date.parse(group.to), zone, now))}
          </span>
        </div>
        <div className="saying">
          <p className="say">
            <span className="narrow-only">
              <b className={`pri ${group.priority}`}>{PRIORITY_WORD[group.priority]}.</b>{' '}
            </span>
            <Sentence text={group.summary} />
          </p>
          {group.firstStep ? (
            <p className="first">
              <Sentence text={capital(group.firstStep)} />
            </p>
          ) : null}
          <p className="does">
            <button type="button" aria-expanded={open} onClick={toggle}>
              {open ? words.foldThe(several(shown, noun)) : words.showThe(several(shown, noun))}
            </button>
            {mayAcknowledge(state) ? <span className="note">{words.eachIsAcknowledged}</span> : null}
          </p>
        </div>
      </div>
    </article>
  );
}

const spanSaid = (from: string, to: string): string => (from === to ? words.began(from) : words.beganTo(from, to));
