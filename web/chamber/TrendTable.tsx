import type { Trend, TrendPoint } from '../../shared/contract/readings.ts';
import { fromPascal, type PressureUnit } from '../../shared/units.ts';
import { nowMs } from '../frame/clock.ts';
import { useUnit, useZone } from '../frame/site.ts';
import { gasTitle } from '../notation/gas.ts';
import { scientific } from '../notation/number.ts';
import { moment } from '../notation/time.ts';

function cell(point: TrendPoint | undefined, unit: PressureUnit): string {
  if (!point) return 'not measured';
  const write = (pressurePa: number) => scientific(fromPascal(pressurePa, unit));
  if (point.value === null || point.value <= 0) {
    return point.limit && point.limit > 0 ? `below ${write(point.limit)}` : 'not measured';
  }
  if (point.min === null || point.max === null || point.min <= 0 || point.min === point.max) return write(point.value);
  return `${write(point.value)} (${write(point.min)} to ${write(point.max)})`;
}

/** The same numbers as the picture: newest first, median with the smallest and largest of each stretch. */
export function TrendTable({ trend, gases }: { readonly trend: Trend; readonly gases: readonly string[] }) {
  const unit = useUnit();
  const zone = useZone();
  const byTime = new Map<string, Record<string, TrendPoint>>();
  for (const gas of gases) {
    for (const point of trend.series[gas] ?? []) {
      const row = byTime.get(point.at) ?? {};
      row[gas] = point;
      byTime.set(point.at, row);
    }
  }
  const times = [...byTime.keys()].sort((a, b) => Date.parse(b) - Date.parse(a));
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls in itself and must be reachable by keyboard
    <section className="trend-table" tabIndex={0} aria-label="The trend as a table">
      <table>
        <thead>
          <tr>
            <th scope="col">Time</th>
            {gases.map((gas) => (
              <th key={gas} scope="col">
                {gasTitle(gas)}, {unit}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {times.map((at) => (
            <tr key={at}>
              <th scope="row">{moment(Date.parse(at), zone, nowMs())}</th>
              {gases.map((gas) => (
                <td key={gas} className="num">
                  {cell(byTime.get(at)?.[gas], unit)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
