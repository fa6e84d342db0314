import { brief } from '../notation/number.ts';
import { words } from '../strings/compare.ts';
import type { Ratio, RatioScale } from './ratioScale.ts';

interface RatioPictureProps {
  readonly ratio: Ratio;
  readonly scale: RatioScale;
  readonly width: number;
}

const HEIGHT = 34;
const EDGE = 5;

/** The pale block at 1, both see the same, is the ground of the cell, so that it joins the rows. Dash: the ratio. Line: its 95 % interval. Hatch: it cannot be told. */
export function RatioPicture({ ratio, scale, width }: RatioPictureProps) {
  const x = (value: number) => Math.max(EDGE, Math.min(width - EDGE, scale.place(value) * width));
  const middle = HEIGHT / 2;
  const { ratio: value, ratioLow, ratioHigh } = ratio;
  const known = value !== null && value > 0;
  return (
    <svg className="ev" width={width} height={HEIGHT} aria-hidden="true">
      {scale.ticks.map((tick) => (
        <path key={tick} className="decade" d={`M${x(tick)} 0V${HEIGHT}`} />
      ))}
      {known && ratioLow !== null && ratioHigh !== null ? (
        <path className="ev-line" d={`M${x(ratioLow)} ${middle}H${x(ratioHigh)}`} />
      ) : null}
      {known ? <rect className="ev-dash" x={x(value) - 2} y={middle - 8} width="4" height="16" /> : null}
      {!known && ratioHigh !== null && ratioHigh > 0 ? (
        <path className="ev-arrow" d={`M${Math.max(26, x(ratioHigh))} ${middle - 6}v12m0 -6h-20m5.5 -4l-5.5 4l5.5 4`} />
      ) : null}
      {!known && ratioHigh === null && ratioLow !== null && ratioLow > 0 ? (
        <path
          className="ev-arrow"
          d={`M${Math.min(width - 26, x(ratioLow))} ${middle - 6}v12m0 -6h20m-5.5 -4l5.5 4l-5.5 4`}
        />
      ) : null}
      {!known && ratioHigh === null && ratioLow === null ? (
        <rect className="gap" x={EDGE} y={middle - 6} width={width - 2 * EDGE} height="12" fill="url(#hatch)" />
      ) : null}
    </svg>
  );
}

/** The axis under the last row. */
export function RatioAxis({ scale, width }: Omit<RatioPictureProps, 'ratio'>) {
  return (
    <svg className="plot ratio-axis" width={width} height="18" aria-hidden="true">
      {scale.ticks.map((tick) => (
        <text key={tick} className="ax-x" x={scale.place(tick) * width} y="13">
          {tickText(tick)}
        </text>
      ))}
    </svg>
  );
}

export const tickText = (tick: number): string => {
  if (Math.abs(Math.log10(tick)) < 1e-9) return words.same;
  return tick > 1 ? `×${brief(tick)}` : `÷${brief(1 / tick)}`;
};
