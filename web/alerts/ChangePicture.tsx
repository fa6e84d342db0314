import { memo, useMemo } from 'react';
import { placeLabels } from '../charts/labels.ts';
import { decadeLabel } from '../notation/number.ts';
import { words } from '../strings/alertChange.ts';
import { type ChangedMass, changeAxis, mostChanged } from './changeScale.ts';

interface ChangePictureProps {
  /** In the reader's unit. */
  readonly masses: readonly ChangedMass[];
  readonly unit: string;
  readonly width: number;
}

export const CHANGE_HEIGHT = 280;
const LEFT = 46;
const RIGHT = 14;
const TOP = 44;
const FOOT = 38;
const NAMED = 14;
const BAR_SHARE = 0.66;
const NARROWEST_BAR = 3;
const WIDEST_BAR = 16;
const DASH = 4;

/**
 * Thin outline: what is usual. Dash on a post: what came on top; hollow: what fell. Line: its 95 % interval. Two dots:
 * it cannot be told from none, and is at most there.
 */
export const ChangePicture = memo(function ChangePicture({ masses, unit, width }: ChangePictureProps) {
  const axis = useMemo(() => changeAxis(masses), [masses]);
  const first = masses[0]?.mass ?? 1;
  const last = masses[masses.length - 1]?.mass ?? 100;
  const right = width - RIGHT;
  const bottom = CHANGE_HEIGHT - FOOT;
  const perMass = (right - LEFT) / (last - first + 1.2);
  const bar = Math.max(NARROWEST_BAR, Math.min(WIDEST_BAR, perMass * BAR_SHARE));
  const x = (mass: number) => LEFT + (mass - first + 0.6) * perMass;
  const share = (value: number) => Math.log10(value / axis.low) / Math.log10(axis.high / axis.low);
  const y = (value: number) => Math.max(TOP, Math.min(bottom, bottom - share(value) * (bottom - TOP)));
  const place = { x, y, bottom, bar };
  const tops = masses.map((one) => ({
    x: x(one.mass),
    top: y(Math.max(one.usual ?? 0, one.high ?? one.change ?? 0, axis.low)),
    width: bar,
  }));
  const labels = placeLabels(
    mostChanged(masses, NAMED).map((one) => ({
      x: x(one.mass),
      top: tops.find((top) => top.x === x(one.mass))?.top ?? bottom,
      text: String(one.mass),
    })),
    tops,
    16,
  );
  return (
    <svg className="plot change" width={width} height={CHANGE_HEIGHT} aria-hidden="true">
      {axis.ticks.map((tick) => (
        <g key={tick}>
          <path className="ax-line" d={`M${LEFT} ${y(tick)}H${right}`} />
          <text className="ax-y" x={LEFT - 7} y={y(tick) + 4}>
            {decadeLabel(Math.round(Math.log10(tick)))}
          </text>
        </g>
      ))}
      <text className="ax-u" x={LEFT} y={11}>
        {words.nEquivalent(unit)}
      </text>
      {masses.map((one) => (
        <OneMass key={one.mass} one={one} place={place} low={axis.low} />
      ))}
      <path className="ax-base" d={`M${LEFT} ${bottom}H${right}`} />
      {massTicks(first, last, perMass).map((mass) => (
        <g key={mass}>
          <path className="ax-tick" d={`M${x(mass)} ${bottom}v5`} />
          <text className="ax-x" x={x(mass)} y={bottom + 18}>
            {mass}
          </text>
        </g>
      ))}
      <text className="ax-x end" x={right} y={CHANGE_HEIGHT - 4}>
        {words.massChargeU}
      </text>
      {labels.map((label) => (
        <g key={label.x}>
          {label.top - label.y > 9 ? (
            <path className="sp-lead" d={`M${label.x} ${label.top - 2}V${label.y + 4}`} />
          ) : null}
          <text className="sp-n" x={label.x} y={label.y}>
            {label.text}
          </text>
        </g>
      ))}
    </svg>
  );
});

interface Place {
  readonly x: (mass: number) => number;
  readonly y: (value: number) => number;
  readonly bottom: number;
  readonly bar: number;
}

function OneMass({ one, place, low }: { readonly one: ChangedMass; readonly place: Place; readonly low: number }) {
  const { bottom, bar, y } = place;
  const at = place.x(one.mass);
  const inner = Math.max(3, bar - 4);
  return (
    <g>
      {one.usual !== null && one.usual > low ? (
        <path className="sp-before" d={`M${at - bar / 2} ${bottom}V${y(one.usual)}h${bar}V${bottom}`} />
      ) : null}
      {one.change !== null && one.change > low ? (
        <>
          <rect
            className={one.fell ? 'ch-post fell' : 'ch-post'}
            x={at - inner / 4}
            y={y(one.change)}
            width={inner / 2}
            height={bottom - y(one.change)}
          />
          {one.high === null ? null : <path className="ch-line" d={`M${at} ${y(one.high)}V${y(one.low ?? low)}`} />}
          <rect
            className={one.fell ? 'ch-dash fell' : 'ch-dash'}
            x={at - inner / 2}
            y={y(one.change) - DASH / 2}
            width={inner}
            height={DASH}
          />
        </>
      ) : null}
      {one.atMost !== null && one.atMost > low ? (
        <path className="ch-none" d={`M${at - bar / 2} ${y(one.atMost)}h2M${at + bar / 2 - 2} ${y(one.atMost)}h2`} />
      ) : null}
    </g>
  );
}

const LABEL_PX = 40;
const massTicks = (first: number, last: number, perMass: number): readonly number[] => {
  const step = [1, 2, 5, 10, 20, 50].find((size) => size * perMass >= LABEL_PX) ?? 100;
  const from = Math.ceil(first / step) * step;
  return Array.from({ length: Math.max(0, Math.floor((last - from) / step) + 1) }, (_, i) => from + i * step);
};
