import { memo, useMemo } from 'react';
import { ComposedChart, XAxis, YAxis } from 'recharts';
import { scientific } from '../notation/number.ts';
import { words } from '../strings/charts.ts';
import { LinearGrid, LogGrid } from './AxisGrid.tsx';
import { logAxis } from './logAxis.ts';
import { type DrawnPeak, FloorZone, LabelLayer, MassTicks, PeakLayer } from './SpectrumLayers.tsx';
import { useScales } from './scales.ts';

interface SpectrumChartProps {
  readonly peaks: readonly DrawnPeak[];
  readonly floor: number | null;
  readonly unit: string;
  readonly scale: 'log' | 'linear';
  readonly width: number;
}

export const SPECTRUM_HEIGHT = 330;
export const SPECTRUM_MARGIN = { top: 28, bottom: 36, left: 46, right: 14 };
const LINEAR_TICKS = 5;

const ticksUpTo = (top: number, step: number): number[] =>
  Array.from({ length: Math.round(top / step) }, (_, i) => (i + 1) * step);

/** One, two or five times a power of ten, so that a linear axis carries round numbers. */
function roundStep(top: number): number {
  const rough = top / LINEAR_TICKS;
  const power = 10 ** Math.floor(Math.log10(rough));
  return power * ([1, 2, 5].find((m) => m * power >= rough) ?? 10);
}

export const SpectrumChart = memo(function SpectrumChart(props: SpectrumChartProps) {
  const { peaks, floor, unit, scale, width } = props;
  const first = peaks[0]?.mass ?? 1;
  const last = peaks[peaks.length - 1]?.mass ?? 100;
  const log = useMemo(
    () =>
      logAxis([
        floor === null ? null : floor * 0.7,
        ...peaks.flatMap(({ height, shoulder, ghost }) => [height, shoulder, ghost]),
      ]),
    [peaks, floor],
  );
  const top = Math.max(...peaks.flatMap(({ height, ghost }) => [height ?? 0, ghost ?? 0]), 0) || 1;
  const step = roundStep(top);
  const domain = scale === 'log' ? [log.low, log.high] : [0, Math.ceil((top * 1.05) / step) * step];
  const data = useMemo(() => peaks.map(({ mass, height }) => ({ mass, height })), [peaks]);
  return (
    <ComposedChart
      className="plot spectrum"
      width={width}
      height={SPECTRUM_HEIGHT}
      data={data}
      margin={SPECTRUM_MARGIN}
      accessibilityLayer={false}
    >
      <XAxis dataKey="mass" type="number" domain={[first - 0.6, last + 0.6]} allowDataOverflow hide />
      <YAxis type="number" scale={scale} domain={domain} allowDataOverflow hide />
      {scale === 'log' ? (
        <LogGrid ticks={log.ticks} unit={`${unit}, N₂-equivalent`} />
      ) : (
        <LinearGrid ticks={ticksUpTo(domain[1] ?? top, step)} unit={`${unit}, N₂-equivalent`} />
      )}
      <FloorZone floor={floor} />
      <PeakLayer peaks={peaks} />
      <MassTicks first={first} last={last} />
      <LabelLayer peaks={peaks} />
      {floor === null ? null : <FloorWord text={words.dottedFloor(scientific(floor), unit)} />}
    </ComposedChart>
  );
});

function FloorWord({ text }: { readonly text: string }) {
  const scales = useScales();
  return scales ? (
    <text className="ax-note end" x={scales.plot.right} y={11}>
      {text}
    </text>
  ) : null;
}
