/** The lines of the picture of a ticket, one per gas, with its extremes, its dots on the floor and its name at the end. */
import type { TrendPoint } from '../../shared/contract/readings.ts';
import { spread } from './endLabels.ts';
import type { TicketFacts } from './facts.ts';
import { escaped, GREY, pieces, positive, px, type Scales } from './paper.ts';
import { type Stroke, strokeOf } from './strokes.ts';

const at = ({ x, y }: Scales, point: TrendPoint, value: number): string =>
  `${px(x(Date.parse(point.at)))} ${px(y(value))}`;

const dashed = ({ dash }: Stroke): string => (dash === '' ? '' : ` stroke-dasharray="${dash}"`);

const drawPiece = (piece: readonly TrendPoint[], scales: Scales, stroke: Stroke): string => {
  const own = (point: TrendPoint): number => point.value as number;
  const upper = piece.map((point) => at(scales, point, positive(point.max) ? point.max : own(point)));
  const lower = piece.map((point) => at(scales, point, positive(point.min) ? point.min : own(point))).reverse();
  const middle = piece.map((point) => at(scales, point, own(point)));
  // One scan alone has no line: it is drawn as a short dash, which a viewer shows as a dot.
  const line = middle.length === 1 ? `M${middle[0]}h.1` : `M${middle.join('L')}`;
  const cap = middle.length === 1 ? ' stroke-linecap="round"' : '';
  return [
    `<path d="M${[...upper, ...lower].join('L')}Z" fill="${stroke.colour}" fill-opacity=".3" stroke="${stroke.colour}" stroke-opacity=".3" stroke-width=".6"/>`,
    `<path d="${line}" fill="none" stroke="${stroke.colour}" stroke-width="1.9"${cap}${dashed(stroke)}/>`,
  ].join('');
};

/** Below detection: dots on the floor line, or at the foot where no floor is known. */
const floorLevel = ({ trend }: TicketFacts, { plot, y }: Scales): number =>
  positive(trend.floor) ? Math.min(plot.bottom, y(trend.floor)) : plot.bottom;

/** Dots stand this far apart; those of several gases beside each other. */
const DOT_PITCH = 12;
const DOT_STEP = 3;

const drawDots = (points: readonly TrendPoint[], level: number, place: number, { x }: Scales): string => {
  const below = points.filter((point) => point.value === null && point.limit != null);
  const places = new Set(
    below.map((point) => Math.round(x(Date.parse(point.at)) / DOT_PITCH) * DOT_PITCH + place * DOT_STEP),
  );
  return [...places].map((left) => `<circle cx="${px(left)}" cy="${px(level)}" r="1.5"/>`).join('');
};

export const drawGases = (gases: readonly string[], facts: TicketFacts, scales: Scales): string =>
  gases
    .map((gas, i) => {
      const stroke = strokeOf(gas);
      const points = facts.trend.series[gas] ?? [];
      const lines = pieces(points, facts.trend.gaps).map((piece) => drawPiece(piece, scales, stroke));
      return `<g fill="${stroke.colour}">${lines.join('')}${drawDots(points, floorLevel(facts, scales), i, scales)}</g>`;
    })
    .join('');

export const drawFloor = (facts: TicketFacts, scales: Scales): string => {
  const { floor } = facts.trend;
  if (!positive(floor)) return '';
  const { plot } = scales;
  const level = floorLevel(facts, scales);
  const words = `floor ${floor.toExponential(1)} ${facts.unit} (3σ, N2-equivalent)`;
  return `<path d="M${plot.left} ${px(level)}H${plot.right}" stroke="#81817a" stroke-dasharray="1 3"/><text x="${plot.left + 6}" y="${px(level - 5)}" font-size="11" fill="${GREY}">${words}</text>`;
};

const LABEL_GAP = 15;

/** Name and last value at the end of each line: on paper in black, the name tells what the colour cannot. */
export const drawEnds = (gases: readonly string[], facts: TicketFacts, { plot, y }: Scales): string => {
  const ends = gases.flatMap((gas) => {
    const last = (facts.trend.series[gas] ?? []).findLast((point) => positive(point.value));
    return last && positive(last.value) ? [{ gas, value: last.value }] : [];
  });
  const heights = spread(
    ends.map(({ value }) => y(value)),
    LABEL_GAP,
    plot.top,
    plot.bottom,
  );
  return ends
    .map(({ gas, value }, i) => {
      const label = heights[i] as number;
      const { colour } = strokeOf(gas);
      return `<path d="M${plot.right + 1} ${px(y(value))}L${plot.right + 11} ${px(label)}" fill="none" stroke="${colour}"/><text x="${plot.right + 15}" y="${px(label)}" dy=".32em"><tspan font-weight="600">${escaped(gas)}</tspan> ${value.toExponential(1)}</text>`;
    })
    .join('');
};

export const sample = (gas: string, x: number, y: number): string => {
  const stroke = strokeOf(gas);
  return `<path d="M${x} ${y}h30" stroke="${stroke.colour}" stroke-width="1.9"${dashed(stroke)}/>`;
};
