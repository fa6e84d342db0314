import { useRef } from 'react';
import { Link } from 'wouter';
import type { RoundLine } from '../../shared/contract/round.ts';
import type { AlertState } from '../../shared/contract/words.ts';
import { useShownState } from '../alerts/underway.ts';
import { Age, Lasting } from '../frame/Age.tsx';
import { nowMs } from '../frame/clock.ts';
import { Flag } from '../frame/Flag.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { HEALTH_TITLE, PRIORITY_WORD } from '../notation/words.ts';
import { Rich } from '../strings/Rich.tsx';
import { words } from '../strings/round.ts';
import type { Group, Shelved } from './rows.ts';
import { useAgeStep } from './useAgeStep.ts';

export interface RowWordsProps {
  readonly line: RoundLine;
  readonly group: Group;
  /** What is known of it is the past. */
  readonly unseen: boolean;
  /** When the last round of the area was signed; empty: none was. */
  readonly since: string;
  readonly isNew: boolean;
  readonly shelved: Shelved | undefined;
}

/** What the change since the last round is called: nothing for a row that has none. */
function changeWords({ change }: RoundLine, since: string): string {
  if (change === 'none') return '';
  return since === '' ? words.change[change] : words.changeSince[change](since);
}

/** Left of the rule: priority, where the alert stands, what has changed. */
export function Margin({ line, group, unseen, since, isNew, shelved }: RowWordsProps) {
  const { worst } = line;
  const shown = useShownState(worst?.id, (worst?.state ?? 'normal') as AlertState);
  const change = changeWords(line, since);
  const changeLeads = group === 'changed' && line.change !== 'none';
  const health = unseen && line.health !== 'blind' ? 'stale' : line.health;
  return (
    <div className="m">
      {worst ? <Flag priority={worst.priority} state={shown.state} scale={1.45} onRule hoist={isNew} /> : null}
      {!worst && shelved ? <Flag priority={shelved.priority} state="shelved" scale={1.45} onRule /> : null}
      <div className="txt">
        {changeLeads && line.change !== 'none' ? (
          <p>
            <b>{words.Change[line.change]}</b>
          </p>
        ) : null}
        {worst ? (
          <>
            <p className={`pri ${worst.priority}`}>{PRIORITY_WORD[worst.priority]}</p>
            <p className="stands">{shown.word}</p>
          </>
        ) : null}
        {unseen || (!worst && !changeLeads) ? (
          <p>
            <b>{HEALTH_TITLE[health]}</b>
          </p>
        ) : null}
        {!changeLeads && change !== '' ? <p className="stands">{change}</p> : null}
        {!worst && shelved ? <PutAside shelved={shelved} /> : null}
        {line.openAlerts > 1 ? <p>{words.alertsOpen(line.openAlerts)}</p> : null}
      </div>
    </div>
  );
}

function PutAside({ shelved }: { readonly shelved: Shelved }) {
  const zone = useZone();
  return (
    <>
      <p className={`pri ${shelved.priority}`}>{PRIORITY_WORD[shelved.priority]}</p>
      <p>{shelved.until ? words.shelvedUntil(moment(Date.parse(shelved.until), zone, nowMs())) : words.isShelved}</p>
    </>
  );
}

interface WhoProps {
  readonly line: RoundLine;
  readonly unseen: boolean;
  readonly heading: string;
}

export function Who({ line, unseen, heading }: WhoProps) {
  const state = line.state ?? words.noState;
  const { stateSince } = line;
  const part = useRef<HTMLDivElement>(null);
  const step = useAgeStep(part);
  const age = <Age at={line.lastScanAt} periodSeconds={line.scanPeriodSeconds} step={step} />;
  return (
    <div className="who" ref={part}>
      <h3 id={heading}>
        <Link href={`/chambers/${encodeURIComponent(line.id)}`}>{line.name}</Link>
      </h3>
      <span className="note">
        {unseen ? (
          words.lastReported(state)
        ) : stateSince ? (
          <Rich text={words.stateFor(state)} parts={{ age: () => <Lasting since={stateSince} step={step} /> }} />
        ) : (
          state
        )}
      </span>
      <span className="note">
        {/* Where no scan has come, the age says so by itself. */}
        {line.lastScanAt === null ? (
          age
        ) : (
          <Rich text={unseen ? words.lastScan : words.scan} parts={{ age: () => age }} />
        )}
      </span>
    </div>
  );
}

/** The judgement, the first step, and who has it in hand. */
export function Saying({ line, group, unseen }: Pick<RowWordsProps, 'line' | 'group' | 'unseen'>) {
  const { worst, change, inHand } = line;
  const zone = useZone();
  const lead = worst?.priority ?? (change === 'none' ? null : change);
  // A chamber that has grown stale since the server spoke: its sentence is about the past.
  const grewStale = unseen && line.health !== 'blind' && line.health !== 'stale' && group === 'blind';
  return (
    <div className="saying">
      <p className="say">
        {lead ? (
          <span className="narrow-only">
            <b className={worst ? `pri ${worst.priority}` : undefined}>{words.leads[lead]}</b>{' '}
          </span>
        ) : null}
        {grewStale ? words.grewStale : <Sentence text={line.say} />}
        {inHand ? (
          <span className="note held"> {words.inHand(inHand.by, moment(Date.parse(inHand.at), zone, nowMs()))}</span>
        ) : null}
      </p>
      {group === 'need' && worst?.firstStep ? (
        <p className="first">
          <Sentence text={worst.firstStep} />
        </p>
      ) : null}
      {line.changeText ? (
        <p className="note">
          <Sentence text={line.changeText} />
        </p>
      ) : null}
    </div>
  );
}
