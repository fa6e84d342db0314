import type { Trend, TrendPoint } from '../../shared/contract/readings.ts';
import { fromPascal, type PressureUnit } from '../../shared/units.ts';
import { againKey } from '../charts/gaps.ts';
import { nowMs } from '../frame/clock.ts';
import { useUnit, useZone } from '../frame/site.ts';
import { gasTitle } from '../notation/gas.ts';
import { scientific } from '../notation/number.ts';
import { moment } from '../notation/time.ts';
import { words } from '../strings/chamber.ts';

function cell(point: TrendPoint | undefined, unit: PressureUnit): string {
  if (!point) return words.notMeasured;
  const write = (pressurePa: number) => scientific(fromPascal(pressurePa, unit));
  if (point.value === null || point.value <= 0) {
    return point.limit && point.limit > 0 ? words.below(write(point.limit)) : words.notMeasured;
  }
  if (point.min === null || point.max === null || point.min <= 0 || point.min === point.max) return write(point.value);
  return words.valueRange(write(point.value), write(point.min), write(point.max));
}

/** The same numbers as the picture: newest first, median with the smallest and largest of each stretch. */
interface TrendTableProps {
  readonly trend: Trend;
  /** The same span recomputed: columns of its own. */
  readonly recomputed?: Trend | undefined;
  readonly gases: readonly string[];
}

export function TrendTable({ trend, recomputed, gases }: TrendTableProps) {
  const unit = useUnit();
  const zone = useZone();
  const byTime = new Map<string, Record<string, TrendPoint>>();
  const add = (key: string, points: readonly TrendPoint[]) => {
    for (const point of points) {
      const row = byTime.get(point.at) ?? {};
      row[key] = point;
      byTime.set(point.at, row);
    }
  };
  for (const gas of gases) {
    add(gas, trend.series[gas] ?? []);
    if (recomputed) add(againKey(gas), recomputed.series[gas] ?? []);
  }
  const columns = gases.flatMap((gas) => {
    const judged = { key: gas, title: gasTitle(gas) };
    return recomputed ? [judged, { key: againKey(gas), title: words.recomputedGas(gasTitle(gas)) }] : [judged];
  });
  const times = [...byTime.keys()].sort((a, b) => Date.parse(b) - Date.parse(a));
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls in itself and must be reachable by keyboard
    <section className="trend-table" tabIndex={0} aria-label={words.theTrendAsATable}>
      <table>
        <thead>
          <tr>
            <th scope="col">{words.time}</th>
            {columns.map(({ key, title }) => (
              <th key={key} scope="col">
                {title}, {unit}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {times.map((at) => (
            <tr key={at}>
              <th scope="row">{moment(Date.parse(at), zone, nowMs())}</th>
              {columns.map(({ key }) => (
                <td key={key} className="num">
                  {cell(byTime.get(at)?.[key], unit)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
