import { memo, useEffect, useRef, useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { RoundLine } from '../../shared/contract/round.ts';
import type { AlertState } from '../../shared/contract/words.ts';
import { AcknowledgeForm } from '../alerts/AcknowledgeForm.tsx';
import { ShelveForm } from '../alerts/ShelveForm.tsx';
import { Age, Lasting } from '../frame/Age.tsx';
import { nowMs } from '../frame/clock.ts';
import { Flag } from '../frame/Flag.tsx';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { Sentence } from '../frame/Sentence.tsx';
import { useMay, useZone } from '../frame/site.ts';
import { capital } from '../notation/sentence.ts';
import { moment } from '../notation/time.ts';
import { HEALTH_TITLE, PRIORITY_WORD } from '../notation/words.ts';
import { ChamberStrip } from '../strip/ChamberStrip.tsx';
import type { Layout } from '../strip/layout.ts';
import type { Group, Shelved } from './rows.ts';

interface RowProps {
  readonly line: RoundLine;
  readonly group: Group;
  readonly layout: Layout;
  readonly selected: boolean;
  readonly since: string;
  readonly isNew: boolean;
  readonly shelved: Shelved | undefined;
  readonly select: (id: string) => void;
}

const canAcknowledge = (state: string | undefined) => state === 'unacknowledged' || state === 'returned-unacknowledged';
const canShelve = (state: string | undefined) => canAcknowledge(state) || state === 'acknowledged';

/** One chamber that needs a person, is not heard, or has changed. */
export const Row = memo(function Row(props: RowProps) {
  const { line, group, layout, selected, select } = props;
  const article = useRef<HTMLElement>(null);
  const [form, setForm] = useState<'acknowledge' | 'shelve' | null>(null);
  const mayMove = useMay('operator');
  const heading = `row-${line.id}`;
  useEffect(() => {
    if (selected) article.current?.scrollIntoView({ block: 'nearest' });
  }, [selected]);
  const close = () => {
    setForm(null);
    article.current?.querySelector('a')?.focus();
  };
  return (
    <article
      ref={article}
      className={`blk row${group === 'changed' ? ' quiet' : ''}${selected ? ' sel' : ''}`}
      aria-labelledby={heading}
      onFocus={() => select(line.id)}
    >
      <Margin {...props} />
      <div className="c">
        <Who line={line} group={group} heading={heading} />
        <div className="cell">
          <ChamberStrip line={line} layout={layout} />
        </div>
        <Saying line={line} group={group} />
        <Actions line={line} group={group} open={setForm} mayMove={mayMove} />
        {form === 'acknowledge' && line.worst ? (
          <div className="form">
            <AcknowledgeForm alert={line.worst.id} done={close} cancel={close} focus />
          </div>
        ) : null}
        {form === 'shelve' && line.worst ? (
          <div className="form">
            <ShelveForm alert={line.worst.id} done={close} cancel={close} focus />
          </div>
        ) : null}
      </div>
      {selected && line.worst && mayMove ? (
        <RowKeys
          acknowledge={canAcknowledge(line.worst.state) ? () => setForm('acknowledge') : undefined}
          shelve={canShelve(line.worst.state) ? () => setForm('shelve') : undefined}
        />
      ) : null}
    </article>
  );
});

function RowKeys(act: { readonly acknowledge: (() => void) | undefined; readonly shelve: (() => void) | undefined }) {
  useKeys({ a: act.acknowledge, s: act.shelve });
  return null;
}

/** What the change since the last round is called: nothing for a row that has none. */
function changeWords(line: RoundLine, since: string): string {
  if (line.change === 'none') return '';
  return line.change === 'as expected' ? 'as expected' : `${line.change}${since === '' ? '' : ` since ${since}`}`;
}

function Margin({ line, group, since, isNew, shelved }: RowProps) {
  const { worst } = line;
  const change = changeWords(line, since);
  return (
    <div className="m">
      {worst ? (
        <Flag priority={worst.priority} state={worst.state as AlertState} scale={1.45} onRule hoist={isNew} />
      ) : null}
      {!worst && shelved ? <Flag priority={shelved.priority} state="shelved" scale={1.45} onRule /> : null}
      <div className="txt">
        {group === 'changed' && change !== '' ? (
          <p>
            <b>{capital(line.change)}</b>
          </p>
        ) : null}
        {worst ? (
          <>
            <p className={`pri ${worst.priority}`}>{PRIORITY_WORD[worst.priority]}</p>
            <p>{worst.state}</p>
          </>
        ) : group === 'changed' && change !== '' ? null : (
          <p>
            <b>{HEALTH_TITLE[group === 'blind' && line.health !== 'blind' ? 'stale' : line.health]}</b>
          </p>
        )}
        {group !== 'changed' && change !== '' ? <p>{change}</p> : null}
        {!worst && shelved ? <PutAside shelved={shelved} /> : null}
        {line.openAlerts > 1 ? <p>{line.openAlerts} alerts open</p> : null}
      </div>
    </div>
  );
}

function PutAside({ shelved }: { readonly shelved: Shelved }) {
  const zone = useZone();
  return (
    <>
      <p className={`pri ${shelved.priority}`}>{PRIORITY_WORD[shelved.priority]}</p>
      <p>shelved{shelved.until ? ` until ${moment(Date.parse(shelved.until), zone, nowMs())}` : ''}</p>
    </>
  );
}

function Who({ line, group, heading }: { readonly line: RoundLine; readonly group: Group; readonly heading: string }) {
  return (
    <div className="who">
      <h3 id={heading}>
        <Link href={`/chambers/${encodeURIComponent(line.id)}`}>{line.name}</Link>
      </h3>
      <span className="note">
        {line.state ?? 'no state reported'}
        {group === 'blind' ? ', last reported' : line.stateSince ? ', ' : ''}
        {group !== 'blind' && line.stateSince ? <Lasting since={line.stateSince} /> : null}
      </span>
      <span className="note">
        <Age
          at={line.lastScanAt}
          periodSeconds={line.scanPeriodSeconds}
          prefix={group === 'blind' ? 'last scan ' : line.lastScanAt === null ? '' : 'scan '}
        />
      </span>
    </div>
  );
}

function Saying({ line, group }: { readonly line: RoundLine; readonly group: Group }) {
  const { worst } = line;
  const lead = worst ? PRIORITY_WORD[worst.priority] : line.change === 'none' ? null : capital(line.change);
  // A chamber that has grown stale since the server spoke: its sentence is about the past.
  const grewStale = group === 'blind' && line.health !== 'blind' && line.health !== 'stale';
  return (
    <div className="saying">
      <p className="say">
        {lead ? (
          <span className="narrow-only">
            <b className={worst ? `pri ${worst.priority}` : undefined}>{lead}.</b>{' '}
          </span>
        ) : null}
        {grewStale ? 'The last scan is old; what is drawn is the past.' : <Sentence text={line.say} />}
      </p>
      {group !== 'changed' && worst?.firstStep && !grewStale ? (
        <p className="first">
          <Sentence text={beginsWithFirst(worst.firstStep)} />
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

/** The first step always begins with "First". */
export const beginsWithFirst = (step: string): string =>
  /^first\b/i.test(step) ? capital(step) : `First ${step.charAt(0).toLowerCase()}${step.slice(1)}`;

interface ActionsProps {
  readonly line: RoundLine;
  readonly group: Group;
  readonly open: (form: 'acknowledge' | 'shelve') => void;
  readonly mayMove: boolean;
}

/** A chamber that has only changed asks for nothing: its name opens it. */
function Actions({ line, group, open, mayMove }: ActionsProps) {
  const [, go] = useLocation();
  const state = line.worst?.state;
  const acknowledge = mayMove && canAcknowledge(state);
  const shelve = mayMove && canShelve(state);
  return (
    <div className="act">
      {acknowledge ? (
        <button type="button" onClick={() => open('acknowledge')}>
          <Act word="Acknowledge" of={line.name} /> <Key name="a" />
        </button>
      ) : null}
      {shelve ? (
        <button type="button" onClick={() => open('shelve')}>
          <Act word="Shelve" of={line.name} /> <Key name="s" />
        </button>
      ) : null}
      {!acknowledge && !shelve && group !== 'changed' ? (
        <button type="button" onClick={() => go(`/chambers/${encodeURIComponent(line.id)}`)}>
          <Act word="Open" of={line.name} /> <Key name="↵" />
        </button>
      ) : null}
    </div>
  );
}

/** Seen, a button is one word; heard, it says of which chamber. */
function Act({ word, of }: { readonly word: string; readonly of: string }) {
  return (
    <span>
      {word} <span className="unseen">{of}</span>
    </span>
  );
}
