import type { ReactNode } from 'react';
import { Link } from 'wouter';
import type {
  Handover,
  HandoverAlert,
  HandoverEntry,
  PutAwayAlert,
  UnseenChamber,
} from '../../shared/contract/handover.ts';
import { ENTRY_KINDS, type EntryKind, PRIORITIES } from '../../shared/contract/words.ts';
import { nowMs } from '../frame/clock.ts';
import { Flag } from '../frame/Flag.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useMay, useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { HEALTH_TITLE, PRIORITY_WORD } from '../notation/words.ts';
import { words } from '../strings/handover.ts';
import { EntryItem } from './EntryItem.tsx';

interface HandoverListsProps {
  readonly areas: readonly Handover[];
  /** When it was signed; undefined: it is the draft, and can be written into. */
  readonly asOf?: number;
}

const ENTRIES: Readonly<Record<EntryKind, 'work' | 'promises' | 'watch'>> = {
  work: 'work',
  promise: 'promises',
  watch: 'watch',
};

/** Over all areas: within a priority as the server has them. */
const worstFirst = (alerts: readonly HandoverAlert[]): HandoverAlert[] =>
  alerts.toSorted((a, b) => PRIORITIES.indexOf(a.priority) - PRIORITIES.indexOf(b.priority));

/** Everything that one shift hands to the next, in the order in which it is asked for. */
export function HandoverLists({ areas, asOf }: HandoverListsProps) {
  const mayClose = useMay('operator') && asOf === undefined;
  const several = areas.length > 1;
  const nameOf = (entry: HandoverEntry) =>
    several ? areas.find(({ area }) => area === entry.area)?.areaName : undefined;
  const item = (entry: HandoverEntry) => (
    <EntryItem key={entry.id} entry={entry} area={nameOf(entry)} mayClose={mayClose} asOf={asOf} />
  );
  const done = areas.flatMap((one) => one.done);
  return (
    <div className="handover">
      {ENTRY_KINDS.map((kind) => {
        const entries = areas.flatMap((one) => one[ENTRIES[kind]]);
        return (
          <List key={kind} title={words.entryKinds[kind]} empty={words.none[kind]}>
            {entries.map(item)}
          </List>
        );
      })}
      <List title={words.open} className="open">
        {worstFirst(areas.flatMap(({ open }) => open)).map((alert) => (
          <OpenAlert key={alert.id} alert={alert} />
        ))}
      </List>
      {(['shelved', 'suppressed', 'outOfService'] as const).map((key) => (
        <List key={key} title={words[key]}>
          {areas
            .flatMap((one) => one[key])
            .map((alert) => (
              <PutAway key={alert.id} alert={alert} />
            ))}
        </List>
      ))}
      <List title={words.unseen} className="unseen-list">
        {areas
          .flatMap(({ unseen }) => unseen)
          .map((chamber) => (
            <Unseen key={chamber.chamber} chamber={chamber} />
          ))}
      </List>
      <List title={words.done}>{done.map(item)}</List>
    </div>
  );
}

interface ListProps {
  readonly title: string;
  /** Said where there is nothing; without it the list is left out. */
  readonly empty?: string;
  readonly className?: string;
  readonly children: readonly ReactNode[];
}

function List({ title, empty, className = '', children }: ListProps) {
  if (children.length === 0 && empty === undefined) return null;
  return (
    <section className={`hand ${className}`}>
      <h3>{title}</h3>
      {children.length === 0 ? <p className="note">{empty}</p> : <ul>{children}</ul>}
    </section>
  );
}

interface AlertHeadProps {
  readonly alert: HandoverAlert | PutAwayAlert;
  readonly children: ReactNode;
}

function AlertItem({ alert, children }: AlertHeadProps) {
  return (
    <li className="alert">
      <p>
        <Flag priority={alert.priority} state={alert.state} />{' '}
        <b className={`pri ${alert.priority}`}>{PRIORITY_WORD[alert.priority]}</b>{' '}
        <Link href={`/alerts/${encodeURIComponent(alert.id)}`}>{alert.chamberName}</Link>{' '}
        <span className="said">
          <Sentence text={alert.summary} />
        </span>
      </p>
      <p className="note">{children}</p>
    </li>
  );
}

function OpenAlert({ alert }: { readonly alert: HandoverAlert }) {
  const zone = useZone();
  const { acknowledged } = alert;
  if (acknowledged === null) return <AlertItem alert={alert}>{words.nobodyYet}</AlertItem>;
  const when = moment(Date.parse(acknowledged.at), zone, nowMs());
  return (
    <AlertItem alert={alert}>
      {acknowledged.note === ''
        ? words.knows(acknowledged.by, when)
        : words.knowsWith(acknowledged.by, when, acknowledged.note)}
    </AlertItem>
  );
}

function PutAway({ alert }: { readonly alert: PutAwayAlert }) {
  const zone = useZone();
  const at = (instant: string) => moment(Date.parse(instant), zone, nowMs());
  return (
    <AlertItem alert={alert}>
      <span>
        {alert.until
          ? alert.by
            ? words.untilBy(at(alert.until), alert.by)
            : words.until(at(alert.until))
          : alert.since
            ? words.since(at(alert.since))
            : null}
      </span>
      {alert.reason ? <span>{alert.reason}</span> : null}
    </AlertItem>
  );
}

function Unseen({ chamber }: { readonly chamber: UnseenChamber }) {
  const zone = useZone();
  const { lastScanAt } = chamber;
  return (
    <li className="alert">
      <p>
        <b>{HEALTH_TITLE[chamber.health]}</b>{' '}
        <Link href={`/chambers/${encodeURIComponent(chamber.chamber)}`}>{chamber.chamberName}</Link>{' '}
        <span className="said">
          <Sentence text={chamber.say} />
        </span>
      </p>
      <p className="note">
        {lastScanAt ? words.lastScanAt(moment(Date.parse(lastScanAt), zone, nowMs())) : words.noScan}
      </p>
    </li>
  );
}
