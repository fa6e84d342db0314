import { memo, useMemo } from 'react';
import { Area, ComposedChart, Line, XAxis, YAxis, ZIndexLayer } from 'recharts';
import { AxisGrid, LogGrid } from './AxisGrid.tsx';
import { type Gap, loneValues, type Row, rangeKey } from './gaps.ts';
import type { LinearAxis } from './linearAxis.ts';
import type { LogAxis } from './logAxis.ts';
import { useScales } from './scales.ts';
import { GapLayer } from './TrendGround.tsx';
import { TimeLayer } from './TrendUprights.tsx';
import type { TimeTick } from './timeAxis.ts';
import type { Span } from './zoom.ts';

/** The key under which the quantity stands in the rows. */
export const QUANTITY = 'value';

export interface Pole {
  readonly id: string;
  readonly at: number;
  readonly text: string;
}

export interface QuantityPicture {
  readonly rows: readonly Row[];
  readonly gaps: readonly Gap[];
  readonly axis:
    | { readonly scale: 'log'; readonly axis: LogAxis }
    | { readonly scale: 'linear'; readonly axis: LinearAxis };
  readonly ticks: readonly TimeTick[];
  /** Where it has usually stood in this span. */
  readonly usual: { readonly low: number; readonly high: number; readonly text: string } | null;
  /** Calibrations that took hold. */
  readonly poles: readonly Pole[];
  readonly last: { readonly value: number; readonly text: string } | null;
  readonly unit: string;
}

interface QuantityChartProps {
  readonly picture: QuantityPicture;
  readonly span: Span;
  readonly width: number;
  readonly narrow: boolean;
}

export const QUANTITY_HEIGHT = 250;
export const quantityMargin = (narrow: boolean) => ({ top: 34, bottom: 30, left: 52, right: narrow ? 18 : 96 });

/** One quantity of the analyser in ink: colours belong to gases. */
export const QuantityChart = memo(function QuantityChart({ picture, span, width, narrow }: QuantityChartProps) {
  const data = useMemo(() => [...picture.rows], [picture.rows]);
  const { scale, axis } = picture.axis;
  return (
    <ComposedChart
      // Another kind of axis is another chart: for one frame a log scale would be asked for places of negative numbers.
      key={scale}
      className="plot trend"
      width={width}
      height={QUANTITY_HEIGHT}
      data={data}
      margin={quantityMargin(narrow)}
      accessibilityLayer={false}
    >
      <XAxis dataKey="t" type="number" domain={[span.from, span.to]} allowDataOverflow hide />
      <YAxis type="number" scale={scale} domain={[axis.low, axis.high]} allowDataOverflow hide />
      {picture.axis.scale === 'log' ? (
        <LogGrid ticks={picture.axis.axis.ticks} unit={picture.unit} />
      ) : (
        <RoundGrid axis={picture.axis.axis} unit={picture.unit} />
      )}
      <UsualLayer usual={picture.usual} />
      <GapLayer gaps={picture.gaps} label />
      <Area
        dataKey={rangeKey(QUANTITY)}
        className="q-env"
        stroke="none"
        fill="var(--ink)"
        fillOpacity={0.3}
        connectNulls={false}
        isAnimationActive={false}
        activeDot={false}
      />
      <Line
        dataKey={QUANTITY}
        className="tr-line"
        stroke="var(--ink)"
        strokeWidth={1.6}
        dot={false}
        activeDot={false}
        connectNulls={false}
        isAnimationActive={false}
      />
      <ZIndexLayer zIndex={600}>
        <LoneMarks rows={picture.rows} />
        <TimeLayer ticks={picture.ticks} />
        <PoleLayer poles={picture.poles} words={!narrow} />
        {narrow ? null : <LastValue last={picture.last} />}
      </ZIndexLayer>
    </ComposedChart>
  );
});

function RoundGrid({ axis, unit }: { readonly axis: LinearAxis; readonly unit: string }) {
  const label = (tick: number) => tick.toFixed(axis.decimals).replace('-', '−');
  return <AxisGrid ticks={axis.ticks} unit={unit} label={label} />;
}

/** A bed thinner than this could not be seen. */
const LEAST_BED_PX = 3;

function UsualLayer({ usual }: Pick<QuantityPicture, 'usual'>) {
  const scales = useScales();
  if (!scales || !usual) return null;
  const { plot, y } = scales;
  const top = Math.max(plot.top, Math.min(y(usual.high), (y(usual.high) + y(usual.low) - LEAST_BED_PX) / 2));
  const bottom = Math.min(plot.bottom, Math.max(y(usual.low), top + LEAST_BED_PX));
  if (bottom <= top) return null;
  return (
    <g>
      <rect className="st-well" x={plot.left} y={top} width={plot.right - plot.left} height={bottom - top} />
      <text className="ax-note halo" x={plot.left + 6} y={top > plot.top + 16 ? top - 5 : bottom + 14}>
        {usual.text}
      </text>
    </g>
  );
}

function LoneMarks({ rows }: { readonly rows: readonly Row[] }) {
  const scales = useScales();
  if (!scales) return null;
  return loneValues(rows, QUANTITY).map(({ t, value }) => (
    <rect key={t} className="ev-dash" x={scales.x(t) - 2} y={scales.y(value) - 2} width="4" height="4" />
  ));
}

const POLE_TOP = 20;
const SIGN_WIDTH = 6.4;

function PoleLayer({ poles, words }: { readonly poles: readonly Pole[]; readonly words: boolean }) {
  const scales = useScales();
  if (!scales) return null;
  const { plot, x } = scales;
  return poles.map(({ id, at, text }, i) => {
    const pole = x(at);
    if (pole < plot.left || pole > plot.right) return null;
    const [before, next] = [poles[i - 1], poles[i + 1]];
    const room = 8 + text.length * SIGN_WIDTH;
    const right = pole + room < (next ? x(next.at) : plot.right);
    // At the end of the span the word stands before its pole.
    const left = !right && pole - room > (before ? x(before.at) : plot.left);
    return (
      <g key={id}>
        <path className="tr-staff" d={`M${pole} ${POLE_TOP}V${plot.bottom}`} />
        {words && (right || left) ? (
          <text className={right ? 'ax-note ink' : 'ax-note ink end'} x={right ? pole + 5 : pole - 5} y={POLE_TOP + 8}>
            {text}
          </text>
        ) : null}
      </g>
    );
  });
}

function LastValue({ last }: Pick<QuantityPicture, 'last'>) {
  const scales = useScales();
  if (!scales || !last) return null;
  const { plot, y } = scales;
  return (
    <text className="tr-end" x={plot.right + 9} y={y(last.value) + 4}>
      {last.text}
    </text>
  );
}
