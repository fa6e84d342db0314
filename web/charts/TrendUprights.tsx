import { Flag } from '../frame/Flag.tsx';
import { words as says } from '../strings/charts.ts';
import { wordsThatFit } from './labels.ts';
import { useScales } from './scales.ts';
import type { TimeTick } from './timeAxis.ts';
import type { Staff, StateBlock } from './trendParts.ts';

/** What stands upright in a trend, or runs along its foot: times, operating states, alerts. */
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
            <text className="ax-note halo" x={x(ms) + 5} y={plot.top + 12}>
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
        {says.state}
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
  const fitting = wordsThatFit(
    staffs.map(({ at, text }) => ({ x: x(at), width: 26 + text.length * WORD_WIDTH })),
    plot.right + 110,
  );
  return staffs.map(({ id, at, flag, text }, i) => {
    const pole = x(at);
    if (pole < plot.left || pole > plot.right) return null;
    const fits = words && fitting[i];
    return (
      <g key={id}>
        <path className="tr-staff" d={`M${pole} ${STAFF_TOP}V${plot.bottom}`} />
        {flag ? (
          <g transform={`translate(${pole - 2.2} ${STAFF_TOP})`}>
            <Flag priority={flag.priority} state={flag.state === 'normal' ? 'acknowledged' : flag.state} />
          </g>
        ) : null}
        {fits ? (
          <text className="ax-note ink" x={pole + (flag ? 24 : 5)} y={STAFF_TOP + 10}>
            {text}
          </text>
        ) : null}
      </g>
    );
  });
}
