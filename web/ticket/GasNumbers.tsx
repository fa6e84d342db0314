import type { TicketGas } from '../../shared/contract/ticket.ts';
import type { PressureUnit } from '../../shared/contract/words.ts';
import { gasTitle } from '../notation/gas.ts';
import { digitsFor, intervalAround, scientific } from '../notation/number.ts';
import { words } from '../strings/ticket.ts';

interface GasNumbersProps {
  readonly gases: readonly TicketGas[];
  readonly unit: PressureUnit;
}

const positive = (value: number | null): value is number => value !== null && value > 0;

/** Values of the ticket are in its own unit already. */
const written = (value: number | null): string => (positive(value) ? scientific(value) : words.noAnswer);

export function medianText({ scans, median, limit }: TicketGas): string {
  if (scans === 0) return words.notMeasured;
  if (positive(median)) return scientific(median);
  return positive(limit) ? words.below(scientific(limit)) : words.noAnswer;
}

export function rangeText({ least, greatest }: TicketGas): string {
  if (!positive(least) || !positive(greatest)) return '—';
  return least === greatest ? written(least) : words.range(written(least), written(greatest));
}

export function lastText({ last }: TicketGas): string {
  if (last === null) return words.notMeasured;
  if (!last.detected) return positive(last.high) ? words.below(scientific(last.high)) : words.noAnswer;
  if (!positive(last.value)) return words.noAnswer;
  if (!positive(last.low) || !positive(last.high)) return scientific(last.value);
  const interval = { low: last.low, high: last.high };
  const digits = digitsFor(last.value, interval);
  return `${scientific(last.value, digits)} ${intervalAround(last.value, interval, digits)}`;
}

/** Each gas over the scans of the span: what a maintenance ticket quotes. */
export function GasNumbers({ gases, unit }: GasNumbersProps) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls in itself and must be reachable by keyboard
    <section className="scrolls" tabIndex={0} aria-label={words.numbers}>
      <table className="gas-numbers">
        <thead>
          <tr>
            <th scope="col">{words.gas}</th>
            <th scope="col">{words.valueIn(words.median, unit)}</th>
            <th scope="col">{words.valueIn(words.leastToGreatest, unit)}</th>
            <th scope="col">{words.valueIn(words.last, unit)}</th>
            <th scope="col">{words.seenBy}</th>
          </tr>
        </thead>
        <tbody>
          {gases.map((gas) => (
            <tr key={gas.gas}>
              <th scope="row">
                {gasTitle(gas.gas)} {gas.name === gas.gas ? null : <span className="note">{gas.name}</span>}
              </th>
              <td className="num" data-name={words.valueIn(words.median, unit)}>
                {medianText(gas)}
              </td>
              <td className="num" data-name={words.valueIn(words.leastToGreatest, unit)}>
                {rangeText(gas)}
              </td>
              <td className="num" data-name={words.valueIn(words.last, unit)}>
                {lastText(gas)}
              </td>
              <td className="num" data-name={words.seenBy}>
                {words.seenOf(gas.detected, gas.scans)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
