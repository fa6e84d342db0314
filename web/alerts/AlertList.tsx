import { useState } from 'react';
import { useLocation } from 'wouter';
import type { Alert } from '../../shared/contract/alerts.ts';
import { useKeys } from '../frame/keys.ts';
import { ShowMore } from '../frame/ShowMore.tsx';
import { AlertRow } from './AlertRow.tsx';
import type { Entry } from './entries.ts';
import { GroupRow } from './GroupRow.tsx';

/** Beyond this many rows the page shows a part and says so. */
const SHOWN_AT_FIRST = 100;

interface AlertListProps {
  readonly entries: readonly Entry[];
  readonly nameOf: (id: string) => string;
}

/** What a selection walks through: entries, and the members of those that are open. */
type Line = { readonly key: string; readonly alert: Alert | null; readonly group: string | null };

const linesOf = (entries: readonly Entry[], opened: ReadonlySet<string>): readonly Line[] =>
  entries.flatMap((entry): Line[] => {
    if (entry.kind === 'alert') return [{ key: entry.alert.id, alert: entry.alert, group: null }];
    const head: Line = { key: entry.group.id, alert: null, group: entry.group.id };
    if (!opened.has(entry.group.id)) return [head];
    return [head, ...entry.members.map((alert): Line => ({ key: alert.id, alert, group: entry.group.id }))];
  });

export function AlertList({ entries, nameOf }: AlertListProps) {
  const [most, setMost] = useState(SHOWN_AT_FIRST);
  const [at, setAt] = useState<string | null>(null);
  const [opened, setOpened] = useState<ReadonlySet<string>>(new Set());
  const [, go] = useLocation();
  const shown = entries.slice(0, most);
  const lines = linesOf(shown, opened);
  const place = lines.findIndex(({ key }) => key === at);
  const step = (by: number) => setAt(lines[Math.max(0, Math.min(lines.length - 1, place + by))]?.key ?? null);
  const toggle = (id: string) => {
    const next = new Set(opened);
    if (!next.delete(id)) next.add(id);
    setOpened(next);
  };
  const selected = lines[place];
  const enter = () => {
    if (selected?.alert) go(`/alerts/${encodeURIComponent(selected.alert.id)}`);
    else if (selected?.group) toggle(selected.group);
  };
  useKeys({
    j: () => step(1),
    down: () => step(1),
    k: () => step(-1),
    up: () => step(-1),
    enter: selected ? enter : undefined,
  });
  return (
    <>
      {shown.map((entry) =>
        entry.kind === 'alert' ? (
          <AlertRow
            key={entry.alert.id}
            alert={entry.alert}
            name={nameOf(entry.alert.chamber)}
            selected={entry.alert.id === selected?.key}
          />
        ) : (
          <OneGroup
            key={entry.group.id}
            entry={entry}
            open={opened.has(entry.group.id)}
            toggle={() => toggle(entry.group.id)}
            selected={selected?.key ?? null}
            nameOf={nameOf}
          />
        ),
      )}
      <ShowMore shown={shown.length} all={entries.length} more={() => setMost(most + SHOWN_AT_FIRST)} />
    </>
  );
}

interface OneGroupProps {
  readonly entry: Extract<Entry, { kind: 'group' }>;
  readonly open: boolean;
  readonly toggle: () => void;
  readonly selected: string | null;
  readonly nameOf: (id: string) => string;
}

function OneGroup({ entry, open, toggle, selected, nameOf }: OneGroupProps) {
  const { group, members } = entry;
  return (
    <>
      <GroupRow
        group={group}
        shown={members.length}
        state={members[0]?.state ?? 'normal'}
        open={open}
        toggle={toggle}
        selected={selected === group.id}
      />
      {open
        ? members.map((alert) => (
            <AlertRow
              key={alert.id}
              alert={alert}
              name={nameOf(alert.chamber)}
              selected={alert.id === selected}
              within
            />
          ))
        : null}
    </>
  );
}
