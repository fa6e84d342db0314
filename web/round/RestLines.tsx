import { type CSSProperties, memo, useEffect, useMemo, useRef } from 'react';
import { Link } from 'wouter';
import type { RoundLine } from '../../shared/contract/round.ts';
import { Age } from '../frame/Age.tsx';
import { words } from '../strings/round.ts';
import { ChamberStrip } from '../strip/ChamberStrip.tsx';
import type { Layout } from '../strip/layout.ts';
import { Tick } from './Paper.tsx';
import { useAgeStep } from './useAgeStep.ts';

interface RestLinesProps {
  readonly lines: readonly RoundLine[];
  readonly layout: Layout;
  readonly selected: string | null;
}

/**
 * So many lines come and go as one piece while the page is scrolled. A grid of all lines would be laid out again for
 * each line that comes near; a dozen fills whole rows of one, two, three or four columns.
 */
const FEW = 12;

/** Chambers at rest: flat, small, two to a line. */
export function RestLines({ lines, layout, selected }: RestLinesProps) {
  const pieces = useMemo(
    () => Array.from({ length: Math.ceil(lines.length / FEW) }, (_, i) => lines.slice(i * FEW, (i + 1) * FEW)),
    [lines],
  );
  if (lines.length === 0) return null;
  return (
    <section className="blk rest">
      <div className="m">
        <div className="txt">
          <b>{words.atRest}</b>
          <br />
          {words.chambers(lines.length)}
        </div>
      </div>
      {/* biome-ignore lint/a11y/useSemanticElements: one list for readers, which the page lays out in pieces */}
      <div className="c" role="list">
        {pieces.map((few) => (
          <Few
            key={few[0]?.id}
            lines={few}
            layout={layout}
            selected={few.some(({ id }) => id === selected) ? selected : null}
          />
        ))}
      </div>
    </section>
  );
}

const Few = memo(function Few({ lines, layout, selected }: RestLinesProps) {
  const piece = useRef<HTMLDivElement>(null);
  const step = useAgeStep(piece);
  return (
    <div ref={piece} className="few" role="none" style={{ '--lines': lines.length } as CSSProperties}>
      {lines.map((line) => (
        <RestLine key={line.id} line={line} layout={layout} selected={line.id === selected} step={step} />
      ))}
    </div>
  );
});

interface RestLineProps {
  readonly line: RoundLine;
  readonly layout: Layout;
  readonly selected: boolean;
  readonly step: number;
}

const RestLine = memo(function RestLine({ line, layout, selected, step }: RestLineProps) {
  const item = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (selected) item.current?.scrollIntoView({ block: 'nearest' });
  }, [selected]);
  return (
    // biome-ignore lint/a11y/useSemanticElements: see the list
    <div ref={item} role="listitem" className={selected ? 'l sel' : 'l'}>
      <Link href={`/chambers/${encodeURIComponent(line.id)}`}>{line.name}</Link>
      <ChamberStrip line={line} layout={layout} />
      <span className="note">
        <Age at={line.lastScanAt} periodSeconds={line.scanPeriodSeconds} step={step} bare />
      </span>
      <Tick />
    </div>
  );
});
