import { gasLabel } from '../notation/gas.ts';
import { gapThatFits, spread } from './labels.ts';
import { useScales } from './scales.ts';
import { strokeOf } from './strokes.ts';
import type { LineEnd } from './trendParts.ts';

/** Marks of the lines of a trend that Recharts has no idea of, drawn with its scales. */
interface UndetectedProps {
  readonly gas: string;
  readonly times: readonly number[];
  /** Dots lie on the floor line; without a floor, at the foot. Several gases are set side by side. */
  readonly floor: number | null;
  readonly place: number;
}

/** Never more dots than there are places for them. */
const DOT_PITCH = 12;

export function UndetectedLayer({ gas, times, floor, place }: UndetectedProps) {
  const scales = useScales();
  if (!scales || times.length === 0) return null;
  const { plot, x, y } = scales;
  const level = floor === null ? plot.bottom - 4 : Math.min(plot.bottom - 2, Math.max(plot.top, y(floor)));
  const places = new Set(
    times
      .map((t) => x(t))
      .filter((at) => at >= plot.left && at <= plot.right)
      .map((at) => Math.round(at / DOT_PITCH) * DOT_PITCH + place * 3),
  );
  return [...places].map((at) => (
    <rect key={at} className={`g-${strokeOf(gas).slot}`} x={at - 1.5} y={level - 1.5} width="3" height="3" />
  ));
}

export function LoneLayer({
  gas,
  values,
}: {
  readonly gas: string;
  readonly values: readonly { t: number; value: number }[];
}) {
  const scales = useScales();
  if (!scales) return null;
  return values.map(({ t, value }) => (
    <rect
      key={t}
      className={`g-${strokeOf(gas).slot}`}
      x={scales.x(t) - 2}
      y={scales.y(value) - 2}
      width="4"
      height="4"
    />
  ));
}

/** Height of a line of words at the ends. */
const END_GAP = 17;

export function EndLayer({ ends, values }: { readonly ends: readonly LineEnd[]; readonly values: boolean }) {
  const scales = useScales();
  if (!scales) return null;
  const { plot, y } = scales;
  const heights = spread(
    ends.map(({ value }) => y(value)),
    gapThatFits(ends.length, END_GAP, plot.bottom - plot.top),
    plot.bottom,
    plot.top,
  );
  return ends.map(({ gas, label, value, text }, i) => {
    const stroke = strokeOf(gas);
    const at = heights[i] ?? y(value);
    return (
      <g key={label ?? gas}>
        <path className={`tr-lead s-${stroke.slot}`} d={`M${plot.right + 1} ${y(value)}L${plot.right + 11} ${at}`} />
        <text className="tr-end" x={plot.right + 15} y={at + 4}>
          {label ?? gasLabel(gas)} {values ? <tspan className="tr-val">{text}</tspan> : null}
        </text>
      </g>
    );
  });
}
