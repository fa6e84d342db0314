import { Flag } from '../frame/Flag.tsx';
import { duration } from '../notation/age.ts';
import { gasLabel } from '../notation/gas.ts';
import type { Gap } from './gaps.ts';
import { spread } from './labels.ts';
import { useScales } from './scales.ts';
import { strokeOf } from './strokes.ts';
import type { TimeTick } from './timeAxis.ts';
import type { Bed, LineEnd, Staff, StateBlock } from './trendParts.ts';

/** Layers of the trend: everything that Recharts has no idea of, drawn with its scales. */
export function BedLayer({ bed }: { readonly bed: Bed | null }) {
  const scales = useScales();
  if (!scales || !bed) return null;
  const { plot, y } = scales;
  const top = Math.max(plot.top, y(bed.high));
  const bottom = Math.min(plot.bottom, y(bed.low));
  if (bottom <= top) return null;
  return (
    <g>
      <rect className="st-well" x={plot.left} y={top} width={plot.right - plot.left} height={bottom - top} />
      <text className="ax-note" x={plot.left + 6} y={top > plot.top + 14 ? top - 5 : bottom + 13}>
        {bed.text}
      </text>
    </g>
  );
}

export function FloorLayer({ floor, text }: { readonly floor: number | null; readonly text: string }) {
  const scales = useScales();
  if (!scales || floor === null) return null;
  const { plot, y } = scales;
  const at = y(floor);
  if (at < plot.top || at > plot.bottom) return null;
  return (
    <g>
      <path className="sp-floorline" d={`M${plot.left} ${at}H${plot.right}`} />
      <text className="ax-note" x={plot.left + 6} y={at + 14 < plot.bottom ? at + 13 : at - 5}>
        {text}
      </text>
    </g>
  );
}

/** Narrower than this, a gap holds no words. */
const GAP_FOR_WORDS = 13;

export function GapLayer({ gaps, label }: { readonly gaps: readonly Gap[]; readonly label: boolean }) {
  const scales = useScales();
  if (!scales) return null;
  const { plot, x } = scales;
  return gaps.map(({ from, to }) => {
    const left = Math.max(plot.left, x(from));
    const right = Math.min(plot.right, x(to));
    if (right - left < 1) return null;
    const middle = (left + right) / 2 + 4;
    return (
      <g key={from}>
        <rect
          className="gap"
          x={left}
          y={plot.top}
          width={right - left}
          height={plot.bottom - plot.top}
          fill="url(#hatch)"
        />
        {label && right - left >= GAP_FOR_WORDS ? (
          <text className="ax-note gapword" transform={`translate(${middle} ${plot.bottom - 8}) rotate(-90)`}>
            no scans {duration((to - from) / 1000)}
          </text>
        ) : null}
      </g>
    );
  });
}

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

export function EndLayer({ ends, values }: { readonly ends: readonly LineEnd[]; readonly values: boolean }) {
  const scales = useScales();
  if (!scales) return null;
  const { plot, y } = scales;
  const heights = spread(
    ends.map(({ value }) => y(value)),
    17,
    plot.bottom,
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

export function TimeLayer({ ticks }: { readonly ticks: readonly TimeTick[] }) {
  const scales = useScales();
  if (!scales) return null;
  const { plot, x } = scales;
  return ticks.map(({ ms, label, day }) => (
    <g key={ms}>
      <path className="ax-tick" d={`M${x(ms)} ${plot.bottom}v5`} />
      {day ? (
        <>
          <path className="ax-day" d={`M${x(ms)} ${plot.top}V${plot.bottom}`} />
          {day === label ? null : (
            <text className="ax-note halo" x={x(ms) + 5} y={plot.bottom - 8}>
              {day}
            </text>
          )}
        </>
      ) : null}
      <text className="ax-x" x={x(ms)} y={plot.bottom + 18}>
        {label}
      </text>
    </g>
  ));
}

const RIBBON_TOP = 30;
const RIBBON_HEIGHT = 20;
const SIGN_WIDTH = 5.6;

export function StateLayer({ states }: { readonly states: readonly StateBlock[] }) {
  const scales = useScales();
  if (!scales) return null;
  const { plot, x } = scales;
  const top = plot.bottom + RIBBON_TOP;
  return (
    <g>
      <text className="ax-y" x={plot.left - 7} y={top + 14}>
        state
      </text>
      {states.map(({ from, to, state }) => {
        const left = Math.max(plot.left, x(from));
        const right = Math.min(plot.right, x(to));
        if (right <= left) return null;
        return (
          <g key={from}>
            <rect
              className={state === 'base' ? 'rib' : 'rib act'}
              x={left + 0.5}
              y={top}
              width={Math.max(1, right - left - 1)}
              height={RIBBON_HEIGHT}
            />
            {right - left > state.length * SIGN_WIDTH + 8 ? (
              <text className="rib-t" x={left + 5} y={top + 14}>
                {state}
              </text>
            ) : null}
          </g>
        );
      })}
    </g>
  );
}

const STAFF_TOP = 14;
const WORD_WIDTH = 6.4;

export function StaffLayer({ staffs, words }: { readonly staffs: readonly Staff[]; readonly words: boolean }) {
  const scales = useScales();
  if (!scales) return null;
  const { plot, x } = scales;
  return staffs.map(({ id, at, priority, state, text }, i) => {
    const pole = x(at);
    if (pole < plot.left || pole > plot.right) return null;
    const next = staffs[i + 1];
    const free = next ? x(next.at) : plot.right + 110;
    const fits = words && pole + 26 + text.length * WORD_WIDTH < free;
    return (
      <g key={id}>
        <path className="tr-staff" d={`M${pole} ${STAFF_TOP}V${plot.bottom}`} />
        <g transform={`translate(${pole - 2.2} ${STAFF_TOP})`}>
          <Flag priority={priority} state={state === 'normal' ? 'acknowledged' : state} />
        </g>
        {fits ? (
          <text className="ax-note ink" x={pole + 24} y={STAFF_TOP + 10}>
            {text}
          </text>
        ) : null}
      </g>
    );
  });
}
