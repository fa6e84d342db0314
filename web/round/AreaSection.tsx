import { memo } from 'react';
import type { RoundLine } from '../../shared/contract/round.ts';
import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { words } from '../strings/round.ts';
import { ownGasesOf } from '../strip/layout.ts';
import { StripHead } from '../strip/StripHead.tsx';
import { useDeclaredGases } from '../strip/useDeclaredGases.ts';
import { useLayout } from '../strip/useLayout.ts';
import { RestLines } from './RestLines.tsx';
import { Row } from './Row.tsx';
import { type AreaRows, type Group, isUnseen, type Shelved } from './rows.ts';
import { TogetherRows } from './TogetherRows.tsx';
import { needOf, type Together } from './together.ts';

interface AreaSectionProps {
  readonly rows: AreaRows;
  readonly first: boolean;
  readonly selected: string | null;
  readonly select: (id: string) => void;
  readonly isNew: (line: RoundLine) => boolean;
  readonly shelved: ReadonlyMap<string, Shelved>;
  /** Chambers of any area that share a cause; those that begin here stand here. */
  readonly together: readonly Together[];
  readonly opened: ReadonlySet<string>;
  readonly toggle: (group: string) => void;
}

export const AreaSection = memo(function AreaSection(props: AreaSectionProps) {
  const { rows, first, selected, select, isNew, shelved, opened, toggle } = props;
  const { area, hand, blind, changed, rest } = rows;
  const need = needOf(rows, props.together);
  const members = need.flatMap((entry) => ('together' in entry ? entry.together.lines : []));
  const zone = useZone();
  const declared = useDeclaredGases();
  const own = ownGasesOf(
    [...area.chambers, ...members].map((line) => line.strip),
    [...area.chambers, ...members].flatMap((line) => declared.get(line.id) ?? []),
  );
  const layout = useLayout(own, 'row');
  const restLayout = useLayout(own, 'rest');
  const since = area.lastSigned ? moment(Date.parse(area.lastSigned.at), zone, nowMs()) : '';
  const shown = rows.need.length + hand.length + blind.length + changed.length + rest.length;
  if (shown === 0) return null;
  const row = (group: Group) => (line: RoundLine) => (
    <Row
      key={line.id}
      line={line}
      group={group}
      unseen={isUnseen(line, nowMs())}
      layout={layout}
      selected={line.id === selected}
      since={since}
      isNew={isNew(line)}
      shelved={shelved.get(line.id)}
      select={select}
    />
  );
  return (
    <section
      aria-labelledby={`area-${area.id}`}
      className={`area own-${own.length}`}
      style={{ containIntrinsicBlockSize: `auto ${guessedHeight(rows)}px` }}
    >
      <div className="blk heads">
        <div className="m" />
        <div className="c">
          <h2 id={`area-${area.id}`}>
            {area.name} <span className="note">{words.chambers(shown)}</span>
          </h2>
          <StripHead layout={layout} />
          {first ? <span className="note howto">{words.howTo}</span> : null}
          <span className="paper-seen" aria-hidden="true">
            {words.seen}
          </span>
        </div>
      </div>
      {need.map((entry) =>
        'line' in entry ? (
          row('need')(entry.line)
        ) : (
          <TogetherRows
            key={entry.together.group.id}
            together={entry.together}
            open={opened.has(entry.together.group.id)}
            toggle={() => toggle(entry.together.group.id)}
            row={row('need')}
          />
        ),
      )}
      {hand.map(row('hand'))}
      {blind.map(row('blind'))}
      {changed.map(row('changed'))}
      <RestLines lines={rest} layout={restLayout} selected={selected} />
    </section>
  );
});

const HEAD = 50;
const NEED = 82;
const QUIET = 66;
const REST = 27;

/** What an area is taken to be high before it has been laid out: near enough for the bar at the side of the window. */
const guessedHeight = ({ need, hand, blind, changed, rest }: AreaRows): number =>
  HEAD +
  NEED * (need.length + blind.length) +
  QUIET * (hand.length + changed.length) +
  REST * Math.ceil(rest.length / 2);
