import type { Peak } from '../../shared/contract/readings.ts';
import { words } from '../strings/charts.ts';
import { ionLabel } from './ions.ts';
import { type Obstacle, placeLabels, type Wanted } from './labels.ts';
import { piecesOf } from './peakShares.ts';
import { type Scales, useScales } from './scales.ts';

/** A bar takes two thirds of its unit mass, between these widths. */
const BAR_SHARE = 0.66;
const NARROWEST_BAR = 3;
const WIDEST_BAR = 16;
/** Parts of one bar are held apart by this. */
const PART_GAP = 0.8;
/** Baseline shoulders stand this far outside the bar and reach this far down. */
const SHOULDER_OUT = 1.5;
const SHOULDER_DOWN = 7;

export const barWidth = (scales: Scales): number =>
  Math.max(NARROWEST_BAR, Math.min(WIDEST_BAR, (scales.x(2) - scales.x(1)) * BAR_SHARE));

export interface DrawnPeak extends Peak {
  /** Height in the chart's unit; null when there is nothing to draw. */
  readonly height: number | null;
  readonly shoulder: number | null;
  /** Height of the same peak in an earlier scan. */
  readonly ghost: number | null;
}

export function FloorZone({ floor }: { readonly floor: number | null }) {
  const scales = useScales();
  if (!scales || floor === null) return null;
  const { plot, y } = scales;
  const top = Math.max(plot.top, Math.min(plot.bottom, y(floor)));
  return (
    <g>
      <rect className="sp-floor" x={plot.left} y={top} width={plot.right - plot.left} height={plot.bottom - top} />
      <path className="sp-floorline" d={`M${plot.left} ${top}H${plot.right}`} />
    </g>
  );
}

export function MassTicks({ first, last }: { readonly first: number; readonly last: number }) {
  const scales = useScales();
  if (!scales) return null;
  const { plot, x } = scales;
  const unit = x(2) - x(1);
  const labelled = unit * 10 >= 40 ? 10 : unit * 20 >= 40 ? 20 : 50;
  const masses = Array.from({ length: Math.floor(last) - Math.ceil(first) + 1 }, (_, i) => Math.ceil(first) + i);
  return (
    <g>
      {masses.map((mass) => {
        const large = mass % labelled === 0;
        if (!large && unit < 4 && mass % 5 !== 0) return null;
        return (
          <g key={mass}>
            <path className="ax-tick" d={`M${x(mass)} ${plot.bottom}v${large ? 6 : 3}`} />
            {large ? (
              <text className="ax-x" x={x(mass)} y={plot.bottom + 19}>
                {mass}
              </text>
            ) : null}
          </g>
        );
      })}
      <text className="ax-x end" x={plot.right} y={plot.bottom + 31}>
        {words.massChargeU}
      </text>
    </g>
  );
}

export function PeakLayer({ peaks }: { readonly peaks: readonly DrawnPeak[] }) {
  const scales = useScales();
  if (!scales) return null;
  return (
    <g>
      {peaks.map((peak) => (
        <g key={peak.mass}>
          <Bar peak={peak} scales={scales} />
          <Shoulder peak={peak} scales={scales} />
          <Ghost peak={peak} scales={scales} />
        </g>
      ))}
    </g>
  );
}

function Bar({ peak, scales }: { readonly peak: DrawnPeak; readonly scales: Scales }) {
  if (peak.height === null) return null;
  const { plot, x, y } = scales;
  const width = barWidth(scales);
  const left = x(peak.mass) - width / 2;
  const top = Math.max(plot.top, y(peak.height));
  const total = plot.bottom - top;
  if (total <= 0) return null;
  const pieces = piecesOf(peak);
  return pieces.map(({ gas, slot, from, to }) => {
    const height = Math.max(0.5, (to - from) * total - (pieces.length > 1 ? PART_GAP : 0));
    const where = { x: left, y: plot.bottom - to * total, width, height };
    return slot === 'unexplained' ? (
      <rect key="unexplained" className="sp-un" {...where} fill="url(#unexplained)" />
    ) : (
      <rect key={gas} className={slot === 'own' ? 'g-own' : `g-${slot}`} {...where} />
    );
  });
}

/** Baseline: the shoulders of a thin outline at its height. */
function Shoulder({ peak, scales }: { readonly peak: DrawnPeak; readonly scales: Scales }) {
  if (peak.shoulder === null) return null;
  const { plot, x, y } = scales;
  const at = y(peak.shoulder);
  if (at < plot.top || at >= plot.bottom) return null;
  const half = barWidth(scales) / 2 + SHOULDER_OUT;
  const foot = Math.min(plot.bottom, at + SHOULDER_DOWN);
  return <path className="sp-before" d={`M${x(peak.mass) - half} ${foot}V${at}H${x(peak.mass) + half}V${foot}`} />;
}

/** An earlier scan: the full outline of its peak. */
function Ghost({ peak, scales }: { readonly peak: DrawnPeak; readonly scales: Scales }) {
  if (peak.ghost === null) return null;
  const { plot, x, y } = scales;
  const at = Math.max(plot.top, y(peak.ghost));
  if (at >= plot.bottom) return null;
  const half = barWidth(scales) / 2 + SHOULDER_OUT;
  return (
    <path
      className="sp-before"
      d={`M${x(peak.mass) - half} ${plot.bottom}V${at}H${x(peak.mass) + half}V${plot.bottom}`}
    />
  );
}

/** A leader is drawn when the label has climbed further than this. */
const LEADER_FROM = 9;

export function LabelLayer({ peaks }: { readonly peaks: readonly DrawnPeak[] }) {
  const scales = useScales();
  if (!scales) return null;
  const { plot, x, y } = scales;
  const width = barWidth(scales);
  const tops: Obstacle[] = peaks.flatMap(({ mass, height, shoulder, ghost }) => {
    const highest = Math.max(height ?? 0, shoulder ?? 0, ghost ?? 0);
    return highest > 0 ? [{ x: x(mass), top: Math.max(plot.top, y(highest)), width }] : [];
  });
  const wanted = peaks
    .filter((peak) => peak.height !== null)
    .sort((a, b) => (b.height ?? 0) - (a.height ?? 0))
    .flatMap((peak): (Wanted & { unexplained: boolean })[] => {
      const most = [...peak.parts].sort((a, b) => b.share - a.share)[0];
      const text = ionLabel(peak.mass, most?.gas ?? null, peak.unexplained);
      if (text === null) return [];
      const top = tops.find((obstacle) => obstacle.x === x(peak.mass))?.top ?? plot.bottom;
      return [{ x: x(peak.mass), top, text, unexplained: peak.unexplained > 0.5 }];
    });
  return placeLabels(wanted, tops, plot.top - 6).map((label) => (
    <g key={label.x}>
      {label.top - 2 - label.y > LEADER_FROM ? (
        <path className="sp-lead" d={`M${label.x} ${label.top - 2}V${label.y + 4}`} />
      ) : null}
      <text className={label.text.endsWith('?') ? 'sp-n un' : 'sp-n'} x={label.x} y={label.y}>
        {label.text}
      </text>
    </g>
  ));
}
