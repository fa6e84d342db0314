import { duration } from '../notation/age.ts';
import { words } from '../strings/charts.ts';
import type { Gap } from './gaps.ts';
import { noteHeights } from './labels.ts';
import { type Scales, useScales } from './scales.ts';
import type { Bed } from './trendParts.ts';

/** What lies behind the lines of a trend: the usual range, the floor, stretches without scans. */
export function BedLayer({ bed }: { readonly bed: Bed | null }) {
  const scales = useScales();
  if (!scales || !bed) return null;
  const { plot } = scales;
  const place = bedPlace(bed, scales);
  if (!place) return null;
  return (
    <rect
      className="st-well"
      x={plot.left}
      y={place.top}
      width={plot.right - plot.left}
      height={place.bottom - place.top}
    />
  );
}

function bedPlace(bed: Bed | null, { plot, y }: Scales): { top: number; bottom: number } | null {
  if (!bed) return null;
  const top = Math.max(plot.top, y(bed.high));
  const bottom = Math.min(plot.bottom, y(bed.low));
  return bottom > top ? { top, bottom } : null;
}

interface NotesProps {
  readonly bed: Bed | null;
  readonly floor: number | null;
  readonly floorText: string;
}

/** Words about the bed and the floor: above or below what they speak of, never on one another. */
const NOTE_GAP = 14;
const ABOVE = 5;
const BELOW = 13;

export function NotesLayer({ bed, floor, floorText }: NotesProps) {
  const scales = useScales();
  if (!scales) return null;
  const { plot, y } = scales;
  const place = bedPlace(bed, scales);
  const level = floor === null ? null : y(floor);
  const seen = level !== null && level >= plot.top && level <= plot.bottom;
  const notes = [
    ...(seen && level !== null ? [{ text: floorText, places: [level + BELOW, level - ABOVE] }] : []),
    ...(place && bed ? [{ text: bed.text, places: [place.top - ABOVE, place.bottom + BELOW] }] : []),
  ];
  const heights = noteHeights(
    notes.map(({ places }) => places),
    { gap: NOTE_GAP, top: plot.top + BELOW, bottom: plot.bottom - ABOVE },
  );
  return (
    <g>
      {seen && level !== null ? <path className="sp-floorline" d={`M${plot.left} ${level}H${plot.right}`} /> : null}
      {notes.map(({ text }, i) =>
        heights[i] == null ? null : (
          <text key={text} className="ax-note halo" x={plot.left + 6} y={heights[i]}>
            {text}
          </text>
        ),
      )}
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
            {words.noScans(duration((to - from) / 1000))}
          </text>
        ) : null}
      </g>
    );
  });
}
