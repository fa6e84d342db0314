import { memo, useEffect, useRef } from 'react';
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

/** Chambers at rest: flat, small, two to a line. */
export function RestLines({ lines, layout, selected }: RestLinesProps) {
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
      <ul className="c">
        {lines.map((line) => (
          <RestLine key={line.id} line={line} layout={layout} selected={line.id === selected} />
        ))}
      </ul>
    </section>
  );
}

interface RestLineProps {
  readonly line: RoundLine;
  readonly layout: Layout;
  readonly selected: boolean;
}

const RestLine = memo(function RestLine({ line, layout, selected }: RestLineProps) {
  const item = useRef<HTMLLIElement>(null);
  const step = useAgeStep(item);
  useEffect(() => {
    if (selected) item.current?.scrollIntoView({ block: 'nearest' });
  }, [selected]);
  return (
    <li ref={item} className={selected ? 'l sel' : 'l'}>
      <Link href={`/chambers/${encodeURIComponent(line.id)}`}>{line.name}</Link>
      <ChamberStrip line={line} layout={layout} />
      <span className="note">
        <Age at={line.lastScanAt} periodSeconds={line.scanPeriodSeconds} step={step} bare />
      </span>
      <Tick />
    </li>
  );
});
