import { memo, useMemo } from 'react';
import { decadeLabel } from '../notation/number.ts';
import { words } from '../strings/charts.ts';
import { type PlanPoint, planAxes, shareOf } from './planScale.ts';

interface PlanChartProps {
  readonly curve: readonly PlanPoint[];
  /** The pressure that is wanted, in the chart's unit. */
  readonly wanted: number;
  readonly wantedText: string;
  /** Where the wanted pressure is reached; null: nowhere. */
  readonly sweeps: number | null;
  /** Beyond this averaging does not help; null: not known. */
  readonly bestSweeps: number | null;
  readonly unit: string;
  readonly width: number;
}

const LEFT = 52;
const RIGHT = 24;
const TOP = 26;
const FOOT = 42;
export const PLAN_HEIGHT = 280;

/** Line: what was measured. Dots: what it would be if noise alone mattered. Pale: where averaging no longer helps. */
export const PlanChart = memo(function PlanChart(props: PlanChartProps) {
  const { curve, wanted, sweeps, bestSweeps, width } = props;
  const axes = useMemo(() => planAxes(curve, wanted), [curve, wanted]);
  const right = width - RIGHT;
  const bottom = PLAN_HEIGHT - FOOT;
  const x = (value: number) => LEFT + shareOf(value, axes.x) * (right - LEFT);
  const y = (value: number) => bottom - shareOf(value, axes.y) * (bottom - TOP);
  const path = (of: (point: PlanPoint) => number) =>
    curve.map((point, i) => `${i === 0 ? 'M' : 'L'}${x(point.sweeps)} ${y(of(point))}`).join('');
  return (
    <svg className="plot plan" width={width} height={PLAN_HEIGHT} aria-hidden="true">
      {bestSweeps !== null && x(bestSweeps) < right ? (
        <g>
          <rect className="st-well" x={x(bestSweeps)} y={TOP} width={right - x(bestSweeps)} height={bottom - TOP} />
          {right - x(bestSweeps) > 150 ? (
            <text className="ax-note" x={x(bestSweeps) + 6} y={TOP + 14}>
              {words.averagingNoLongerHelps}
            </text>
          ) : null}
        </g>
      ) : null}
      {axes.y.ticks.map((tick) => (
        <g key={tick}>
          <path className="ax-line" d={`M${LEFT} ${y(tick)}H${right}`} />
          <text className="ax-y" x={LEFT - 7} y={y(tick) + 4}>
            {decadeLabel(Math.round(Math.log10(tick)))}
          </text>
        </g>
      ))}
      {axes.x.ticks.map((tick) => (
        <g key={tick}>
          <path className="ax-tick" d={`M${x(tick)} ${bottom}v5`} />
          <text className="ax-x" x={x(tick)} y={bottom + 18}>
            {decadeLabel(Math.round(Math.log10(tick)))}
          </text>
        </g>
      ))}
      <path className="ax-base" d={`M${LEFT} ${bottom}H${right}`} />
      <text className="ax-u" x={LEFT} y={11}>
        {words.canBeSeen(props.unit)}
      </text>
      <text className="ax-x end" x={right} y={PLAN_HEIGHT - 6}>
        {words.sweepsAveraged}
      </text>
      <path className="pl-white" d={path((point) => point.white)} />
      <path className="pl-found" d={path((point) => point.detectable)} />
      <path className="pl-wanted" d={`M${LEFT} ${y(wanted)}H${right}`} />
      <text className="ax-note halo" x={LEFT + 6} y={y(wanted) - 5}>
        {props.wantedText}
      </text>
      {sweeps !== null && sweeps >= axes.x.low && sweeps <= axes.x.high ? (
        <g>
          <path className="ev-line" d={`M${x(sweeps)} ${y(wanted)}V${bottom}`} />
          <rect className="ev-dash" x={x(sweeps) - 4} y={y(wanted) - 4} width="8" height="8" />
        </g>
      ) : null}
    </svg>
  );
});
