import { Fragment, memo, useMemo } from 'react';
import { Area, ComposedChart, Line, XAxis, YAxis, ZIndexLayer } from 'recharts';
import { LogGrid } from './AxisGrid.tsx';
import { againKey, type Gap, loneValues, type Row, rangeKey } from './gaps.ts';
import type { LogAxis } from './logAxis.ts';
import { strokeOf } from './strokes.ts';
import { BedLayer, GapLayer, NotesLayer } from './TrendGround.tsx';
import { EndLayer, LoneLayer, UndetectedLayer } from './TrendLayers.tsx';
import { StaffLayer, StateLayer, TimeLayer } from './TrendUprights.tsx';
import type { TimeTick } from './timeAxis.ts';
import type { Bed, LineEnd, Staff, StateBlock } from './trendParts.ts';
import type { Span } from './zoom.ts';

/** Everything is in the reader's unit already; times in milliseconds. */
export interface TrendPicture {
  readonly rows: readonly Row[];
  readonly gases: readonly string[];
  /** Gases that have a second, recomputed line. */
  readonly again: readonly string[];
  readonly undetected: Readonly<Record<string, readonly number[]>>;
  readonly gaps: readonly Gap[];
  readonly axis: LogAxis;
  readonly ticks: readonly TimeTick[];
  readonly floor: number | null;
  readonly floorText: string;
  readonly bed: Bed | null;
  readonly states: readonly StateBlock[];
  readonly staffs: readonly Staff[];
  readonly ends: readonly LineEnd[];
  readonly unit: string;
}

interface TrendChartProps {
  readonly picture: TrendPicture;
  readonly span: Span;
  readonly width: number;
  readonly narrow: boolean;
}

/** A recomputed line is thin and finely dashed whatever its gas: it never passes for the judged one. */
export const AGAIN_DASH = '4 3';
const AGAIN_WIDTH = 1.5;

export const TREND_HEIGHT = 330;
const LEFT = 46;
const RIGHT = 126;
const RIGHT_NARROW = 54;
/** Room for flags above and for times and the ribbon of states below. */
export const trendMargin = (narrow: boolean) => ({
  top: 40,
  bottom: 62,
  left: LEFT,
  right: narrow ? RIGHT_NARROW : RIGHT,
});

/** Draws, nothing else: what to draw has been decided before. */
export const TrendChart = memo(function TrendChart({ picture, span, width, narrow }: TrendChartProps) {
  const { rows, gases, axis } = picture;
  const data = useMemo(() => [...rows], [rows]);
  return (
    <ComposedChart
      className="plot trend"
      width={width}
      height={TREND_HEIGHT}
      data={data}
      margin={trendMargin(narrow)}
      accessibilityLayer={false}
    >
      <XAxis dataKey="t" type="number" domain={[span.from, span.to]} allowDataOverflow hide />
      <YAxis type="number" scale="log" domain={[axis.low, axis.high]} allowDataOverflow hide />
      <LogGrid ticks={axis.ticks} unit={picture.unit} />
      <BedLayer bed={picture.bed} />
      <GapLayer gaps={picture.gaps} label />
      {gases.map((gas) => {
        const { slot, dash } = strokeOf(gas);
        return (
          <Fragment key={gas}>
            <Area
              dataKey={rangeKey(gas)}
              className={`tr-env g-${slot}`}
              stroke="none"
              fill={`var(--gas-${slot})`}
              fillOpacity={0.3}
              connectNulls={false}
              isAnimationActive={false}
              activeDot={false}
            />
            <Line
              dataKey={gas}
              className="tr-line"
              stroke={`var(--gas-${slot})`}
              strokeWidth={1.9}
              strokeDasharray={dash}
              dot={false}
              activeDot={false}
              connectNulls={false}
              isAnimationActive={false}
            />
          </Fragment>
        );
      })}
      {picture.again.map((gas) => (
        <Line
          key={againKey(gas)}
          dataKey={againKey(gas)}
          className="tr-line again"
          stroke={`var(--gas-${strokeOf(gas).slot})`}
          strokeWidth={AGAIN_WIDTH}
          strokeDasharray={AGAIN_DASH}
          dot={false}
          activeDot={false}
          connectNulls={false}
          isAnimationActive={false}
        />
      ))}
      <ZIndexLayer zIndex={600}>
        {gases.map((gas, i) => (
          <Fragment key={gas}>
            <UndetectedLayer gas={gas} times={picture.undetected[gas] ?? []} floor={picture.floor} place={i} />
            <LoneLayer gas={gas} values={loneValues(rows, gas)} />
          </Fragment>
        ))}
        <NotesLayer bed={picture.bed} floor={picture.floor} floorText={picture.floorText} />
        <TimeLayer ticks={picture.ticks} />
        <StateLayer states={picture.states} />
        <EndLayer ends={picture.ends} values={!narrow} />
        <StaffLayer staffs={picture.staffs} words={!narrow} />
      </ZIndexLayer>
    </ComposedChart>
  );
});
