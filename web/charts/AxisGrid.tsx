import { decadeLabel, plain } from '../notation/number.ts';
import { useScales } from './scales.ts';

interface AxisGridProps {
  readonly ticks: readonly number[];
  readonly unit: string;
  readonly label: (tick: number) => string;
  /** Figures that are longer than a power of ten stand smaller and closer to the axis. */
  readonly small?: boolean;
}

/** Lines across the picture at the ticks of its upright axis, and the unit above the axis. */
export function AxisGrid({ ticks, unit, label, small = false }: AxisGridProps) {
  const scales = useScales();
  if (!scales) return null;
  const { plot, y } = scales;
  return (
    <g>
      {ticks.map((tick) => (
        <g key={tick}>
          <path className="ax-line" d={`M${plot.left} ${y(tick)}H${plot.right}`} />
          <text className={small ? 'ax-y small' : 'ax-y'} x={plot.left - (small ? 4 : 7)} y={y(tick) + 4}>
            {label(tick)}
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

const asDecade = (tick: number): string => decadeLabel(Math.round(Math.log10(tick)));

/** Decade lines with their powers of ten. */
export function LogGrid({ ticks, unit }: Pick<AxisGridProps, 'ticks' | 'unit'>) {
  return <AxisGrid ticks={ticks} unit={unit} label={asDecade} />;
}

const asNumber = (tick: number): string => plain(tick, 1);

/** Lines at round numbers. */
export function LinearGrid({ ticks, unit }: Pick<AxisGridProps, 'ticks' | 'unit'>) {
  return <AxisGrid ticks={ticks} unit={unit} label={asNumber} small />;
}
