import { memo, useMemo } from 'react';
import { decadeLabel } from '../notation/number.ts';
import { words } from '../strings/charts.ts';
import { type LogAxis, logAxis, plottable } from './logAxis.ts';
import { shareOf } from './planScale.ts';
import {
  inSigma,
  MOST_SIGMA,
  QUIET_SIGMA,
  type ResidualPeak,
  rises,
  sigmaPlace,
  standingOut,
  sureLine,
  unexplainedFrom,
} from './residualScale.ts';

interface ResidualChartProps {
  readonly peaks: readonly ResidualPeak[];
  readonly width: number;
  readonly unit: string;
}

const LEFT = 52;
const RIGHT = 16;
const TOP = 24;
const HEIGHTS = 200;
const BETWEEN = 34;
const SIGMAS = 120;
const FOOT = 38;
export const RESIDUAL_HEIGHT = TOP + HEIGHTS + BETWEEN + SIGMAS + FOOT;
/** At most this many masses carry their number in the panel of residuals. */
const MOST_LABELS = 12;
const WIDEST_MARK = 14;
const NARROWEST_MARK = 4;

interface Places {
  readonly x: (mass: number) => number;
  readonly y: (height: number) => number;
  readonly s: (sigma: number) => number;
  readonly mark: number;
  readonly foot: number;
  readonly right: number;
}

function placesOf(peaks: readonly ResidualPeak[], width: number, axis: LogAxis): Places {
  const first = (peaks[0]?.mass ?? 1) - 0.8;
  const last = (peaks[peaks.length - 1]?.mass ?? 100) + 0.8;
  const pitch = (width - LEFT - RIGHT) / (last - first);
  const foot = TOP + HEIGHTS;
  const clamp = (y: number) => Math.max(TOP, Math.min(foot, y));
  return {
    x: (mass) => LEFT + (mass - first) * pitch,
    y: (height) => (height > 0 ? clamp(foot - shareOf(height, axis) * HEIGHTS) : foot),
    s: (sigma) => foot + BETWEEN + (SIGMAS / 2) * (1 - sigma / MOST_SIGMA),
    mark: Math.max(NARROWEST_MARK, Math.min(WIDEST_MARK, pitch * 0.7)),
    foot,
    right: width - RIGHT,
  };
}

/**
 * Above: pale block, what the gases explain; dash, what was found; line, how sure; hatch, what nothing explains.
 * Below, on the same masses: how far apart the two are, in standard deviations.
 */
export const ResidualChart = memo(function ResidualChart({ peaks, width, unit }: ResidualChartProps) {
  const axis = useMemo(
    () => logAxis(peaks.filter((peak) => rises(peak) && peak.leftOut === null).map(({ height }) => height)),
    [peaks],
  );
  const places = placesOf(peaks, width, axis);
  const named = new Set(standingOut(peaks, MOST_LABELS).map(({ mass }) => mass));
  return (
    <svg className="plot residuals" width={width} height={RESIDUAL_HEIGHT} aria-hidden="true">
      <Grid axis={axis} places={places} unit={unit} />
      <Masses peaks={peaks} places={places} />
      {peaks.map((peak) => (
        <g key={peak.mass}>
          <HeightMarks peak={peak} places={places} />
          <SigmaMarks peak={peak} places={places} named={named.has(peak.mass)} />
        </g>
      ))}
    </svg>
  );
});

function Grid({ axis, places, unit }: { readonly axis: LogAxis; readonly places: Places; readonly unit: string }) {
  const { y, s, right, foot } = places;
  return (
    <g>
      <text className="ax-u" x={LEFT} y={11}>
        {words.heightNEquivalent(unit)}
      </text>
      {axis.ticks.map((tick) => (
        <g key={tick}>
          <path className="ax-line" d={`M${LEFT} ${y(tick)}H${right}`} />
          <text className="ax-y" x={LEFT - 7} y={y(tick) + 4}>
            {decadeLabel(Math.round(Math.log10(tick)))}
          </text>
        </g>
      ))}
      <path className="ax-base" d={`M${LEFT} ${foot}H${right}`} />
      <text className="ax-u" x={LEFT} y={s(MOST_SIGMA) - 8}>
        {words.residualIn}
      </text>
      <rect
        className="st-well"
        x={LEFT}
        y={s(QUIET_SIGMA)}
        width={right - LEFT}
        height={s(-QUIET_SIGMA) - s(QUIET_SIGMA)}
      />
      {[-MOST_SIGMA, -QUIET_SIGMA, 0, QUIET_SIGMA, MOST_SIGMA].map((sigma) => (
        <g key={sigma}>
          <path className={sigma === 0 ? 'ax-tick' : 'ax-line'} d={`M${LEFT} ${s(sigma)}H${right}`} />
          <text className="ax-y" x={LEFT - 7} y={s(sigma) + 4}>
            {sigma > 0 ? `+${sigma}` : String(sigma).replace('-', '−')}
          </text>
        </g>
      ))}
    </g>
  );
}

function Masses({ peaks, places }: { readonly peaks: readonly ResidualPeak[]; readonly places: Places }) {
  const first = peaks[0]?.mass ?? 1;
  const last = peaks[peaks.length - 1]?.mass ?? 100;
  const { x, s, right } = places;
  const bottom = s(-MOST_SIGMA);
  const step = x(11) - x(1) >= 40 ? 10 : x(21) - x(1) >= 40 ? 20 : 50;
  const tens = Array.from({ length: Math.floor(last / step) }, (_, i) => (i + 1) * step).filter((m) => m >= first);
  return (
    <g>
      {tens.map((mass) => (
        <g key={mass}>
          <path className="ax-tick" d={`M${x(mass)} ${bottom}v5`} />
          <text className="ax-x" x={x(mass)} y={bottom + 18}>
            {mass}
          </text>
        </g>
      ))}
      <text className="ax-x end" x={right} y={bottom + 32}>
        {words.massChargeU}
      </text>
    </g>
  );
}

interface MarksProps {
  readonly peak: ResidualPeak;
  readonly places: Places;
}

function HeightMarks({ peak, places }: MarksProps) {
  const height = plottable(peak.height);
  if (height === null || !rises(peak)) return null;
  const { x, y, mark, foot } = places;
  const left = x(peak.mass) - mark / 2;
  const explained = Math.max(0, peak.explained ?? 0);
  const strange = unexplainedFrom(peak);
  const sure = sureLine(peak);
  return (
    <g className={peak.leftOut === null ? undefined : 'left-out'}>
      <rect className="rs-block" x={left} y={y(explained)} width={mark} height={Math.max(0, foot - y(explained))} />
      {strange === null ? null : (
        <rect
          className="sp-un"
          x={left}
          y={y(height)}
          width={mark}
          height={Math.max(1, y(strange) - y(height))}
          fill="url(#unexplained)"
        />
      )}
      {sure ? <path className="ev-line" d={`M${x(peak.mass)} ${y(sure.high)}V${y(sure.low)}`} /> : null}
      <rect className="ev-dash" x={left} y={y(height) - 1.5} width={mark} height="3" />
    </g>
  );
}

function SigmaMarks({ peak, places, named }: MarksProps & { readonly named: boolean }) {
  const { x, s, mark } = places;
  const at = x(peak.mass);
  if (peak.leftOut !== null)
    return <path className="st-nm" d={`M${at - 2.5} ${s(0) + 3.5}L${at + 2.5} ${s(0) - 3.5}`} />;
  const away = inSigma(peak);
  if (away === null) return null;
  const { at: sigma, beyond } = sigmaPlace(away);
  const y = s(sigma);
  const dash = Math.min(mark, 9);
  return (
    <g>
      <path className="ev-line" d={`M${at} ${s(0)}V${y}`} />
      {beyond === null ? (
        <rect className="ev-dash" x={at - dash / 2} y={y - 1.5} width={dash} height="3" />
      ) : (
        <path
          className="ev-arrow"
          d={beyond === 'up' ? `M${at - 4} ${y + 6}l4 -6l4 6` : `M${at - 4} ${y - 6}l4 6l4 -6`}
        />
      )}
      {named ? (
        <text className="sp-n halo" x={at} y={sigma > 0 ? y - 4 : y + 13}>
          {peak.mass}
        </text>
      ) : null}
    </g>
  );
}
