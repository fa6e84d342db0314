import { plain } from '../notation/number.ts';
import { useScales } from './scales.ts';

/** Lines at round numbers, and the unit above the axis. */
export function LinearGrid({ ticks, unit }: { readonly ticks: readonly number[]; readonly unit: string }) {
  const scales = useScales();
  if (!scales) return null;
  const { plot, y } = scales;
  return (
    <g>
      {ticks.map((tick) => (
        <g key={tick}>
          <path className="ax-line" d={`M${plot.left} ${y(tick)}H${plot.right}`} />
          <text className="ax-y small" x={plot.left - 4} y={y(tick) + 4}>
            {plain(tick, 1)}
          </text>
        </g>
      ))}
      <path className="ax-base" d={`M${plot.left} ${plot.bottom}H${plot.right}`} />
      <text className="ax-u" x={plot.left} y={11}>
        {unit}
      </text>
    </g>
  );
}
