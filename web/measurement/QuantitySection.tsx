import type { UseQueryResult } from '@tanstack/react-query';
import { useMemo } from 'react';
import type { CalibrationEntry } from '../../shared/contract/calibration.ts';
import type { MeasurementTrend } from '../../shared/contract/measurement.ts';
import { SpanControls } from '../chamber/SpanControls.tsx';
import { spanFields } from '../chamber/span.ts';
import { spanText } from '../chamber/spanText.ts';
import { QUANTITY_HEIGHT, QuantityChart, quantityMargin } from '../charts/QuantityChart.tsx';
import { useWidth } from '../charts/useWidth.ts';
import { Zoomable } from '../charts/Zoomable.tsx';
import type { Span } from '../charts/zoom.ts';
import { nowMs } from '../frame/clock.ts';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useUnit, useZone } from '../frame/site.ts';
import { duration } from '../notation/age.ts';
import { moment, offsetText } from '../notation/time.ts';
import { words as all } from '../strings/analyser.ts';
import { useNarrow } from '../strip/useLayout.ts';
import type { AnalyserAddress } from './address.ts';
import { QUANTITIES, type Quantity, quantityNumber, quantityTitle, quantityUnit, quantityValue } from './quantities.ts';
import { type QuantityParts, quantityPicture, quantitySentence } from './quantityPicture.ts';

const words = all.quantitySection;

interface QuantitySectionProps {
  readonly question: UseQueryResult<MeasurementTrend>;
  readonly entries: readonly CalibrationEntry[];
  readonly span: Span;
  readonly address: AnalyserAddress;
  readonly change: (part: Partial<AnalyserAddress>, how?: 'push' | 'replace') => void;
}

export function QuantitySection({ question, entries, span, address, change }: QuantitySectionProps) {
  const zone = useZone();
  const showTable = () => change({ view: address.view === 'table' ? 'chart' : 'table' });
  useKeys({ d: showTable });
  return (
    <Section
      className="sec"
      margin={
        <>
          <p>{spanText(span, zone, nowMs())}</p>
          <p>
            ({offsetText(span.to, zone)}), {duration((span.to - span.from) / 1000)}
          </p>
          {address.view === 'table' ? null : <Legend />}
        </>
      }
    >
      <div className="ph">
        <h2>{words.overTime}</h2>
        <label>
          <span className="unseen">{words.quantity}</span>
          <select
            className="wide"
            value={address.quantity}
            onChange={(event) => change({ quantity: event.target.value as Quantity })}
          >
            {QUANTITIES.map((quantity) => (
              <option key={quantity} value={quantity}>
                {quantityTitle(quantity)}
              </option>
            ))}
          </select>
        </label>
        <SpanControls address={address} span={span} change={change} />
        <button type="button" aria-pressed={address.view === 'table'} onClick={showTable}>
          {address.view === 'table' ? words.asAPicture : words.asATable} <Key name="d" />
        </button>
      </div>
      <Answered question={question} what={words.theCourse} lines={6}>
        {(trend) => {
          const points = trend.series[address.quantity] ?? [];
          if (points.length === 0) return <Nothing quantity={address.quantity} />;
          return address.view === 'table' ? (
            <QuantityTable points={points} quantity={address.quantity} />
          ) : (
            <Picture
              trend={trend}
              entries={entries}
              span={span}
              quantity={address.quantity}
              choose={(next) => change(spanFields(next))}
            />
          );
        }}
      </Answered>
    </Section>
  );
}

function Nothing({ quantity }: { readonly quantity: Quantity }) {
  return <p className="note">{words.nothingWasMeasuredIn(quantityTitle(quantity))}</p>;
}

function Legend() {
  return (
    <ul className="lg">
      <li>
        {words.median}
        <svg width="26" height="8" aria-hidden="true">
          <path className="q-line" d="M0 4H26" />
        </svg>
      </li>
      <li>
        {words.minToMax}
        <svg width="26" height="10" aria-hidden="true">
          <rect className="q-env" width="26" height="10" />
        </svg>
      </li>
      <li>
        {words.usual}
        <svg width="26" height="10" aria-hidden="true">
          <rect className="st-well" width="26" height="10" />
        </svg>
      </li>
    </ul>
  );
}

/** Room that one label of the time axis needs. */
const TICK_PX = 90;

interface PictureProps {
  readonly trend: MeasurementTrend;
  readonly entries: readonly CalibrationEntry[];
  readonly span: Span;
  readonly quantity: Quantity;
  readonly choose: (span: Span) => void;
}

function Picture({ trend, entries, span, quantity, choose }: PictureProps) {
  const unit = useUnit();
  const zone = useZone();
  const narrow = useNarrow();
  const [box, measured] = useWidth<HTMLDivElement>();
  const width = Math.max(measured, 280);
  const margin = quantityMargin(narrow);
  const plot = {
    left: margin.left,
    right: width - margin.right,
    top: margin.top,
    bottom: QUANTITY_HEIGHT - margin.bottom,
  };
  const parts: QuantityParts = useMemo(
    () => ({
      trend,
      quantity,
      span,
      unit,
      zone,
      nowMs: nowMs(),
      entries,
      tickCount: Math.max(3, Math.floor((plot.right - plot.left) / TICK_PX)),
    }),
    [trend, quantity, span, unit, zone, entries, plot.left, plot.right],
  );
  const picture = useMemo(() => quantityPicture(parts), [parts]);
  return (
    <div className="plotbox low" ref={box}>
      <Zoomable label={quantitySentence(picture, parts)} span={span} plot={plot} now={nowMs} choose={choose}>
        <QuantityChart picture={picture} span={span} width={width} narrow={narrow} />
      </Zoomable>
    </div>
  );
}

interface QuantityTableProps {
  readonly points: MeasurementTrend['series'][string];
  readonly quantity: Quantity;
}

/** The same numbers as the picture, newest first. */
function QuantityTable({ points, quantity }: QuantityTableProps) {
  const unit = useUnit();
  const zone = useZone();
  const own = quantityUnit(quantity, unit);
  const write = (value: number) => quantityNumber(quantity, quantityValue(quantity, value, unit));
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls in itself and must be reachable by keyboard
    <section className="trend-table" tabIndex={0} aria-label={words.theCourseAsA}>
      <table>
        <thead>
          <tr>
            <th scope="col">{words.time}</th>
            <th scope="col">
              {quantityTitle(quantity)}
              {own === '' ? '' : `, ${own}`}
            </th>
            <th scope="col">{words.smallest}</th>
            <th scope="col">{words.largest}</th>
          </tr>
        </thead>
        <tbody>
          {[...points].reverse().map(({ at, value, min, max }) => (
            <tr key={at}>
              <th scope="row">{moment(Date.parse(at), zone, nowMs())}</th>
              <td className="num">{write(value)}</td>
              <td className="num">{write(min)}</td>
              <td className="num">{write(max)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
