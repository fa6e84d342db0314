/**
 * The trend as a picture for a file: our own SVG, because it must look the same in every viewer, on paper and in grey.
 * The same facts always give the same bytes. Reads like the trend of the page: log axis, line with its extremes as a
 * fill, dots on the floor line below detection, hatch where no scan is.
 */
import type { TrendPoint } from '../../shared/contract/readings.ts';
import { gasName } from '../gasNames.ts';
import { localTime } from '../localTime.ts';
import { decades, niceTimes, powerOfTen } from './axes.ts';
import type { TicketFacts } from './facts.ts';
import { strokeOf } from './strokes.ts';

const WIDTH = 1040;
const PLOT = { left: 84, top: 92, right: 850, bottom: 430 };
const LEGEND_ROW = 20;

const escaped = (value: string): string =>
  value.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
/** A tenth of a pixel is finer than any screen or printer draws. */
const px = (value: number): string => String(Math.round(value * 10) / 10);

interface Scales {
  x: (ms: number) => number;
  y: (value: number) => number;
}

/** Pieces of a line that no gap and no undetected bucket interrupts. */
const pieces = (points: readonly TrendPoint[], gaps: readonly { from: string; to: string }[]): TrendPoint[][] => {
  const out: TrendPoint[][] = [];
  let piece: TrendPoint[] = [];
  for (const point of points) {
    const previous = piece.at(-1);
    const cut = previous && gaps.some((gap) => gap.from >= previous.at && gap.to <= point.at);
    if (cut || point.value === null || point.value <= 0) {
      if (piece.length > 0) out.push(piece);
      piece = [];
    }
    if (point.value !== null && point.value > 0) piece.push(point);
  }
  return piece.length > 0 ? [...out, piece] : out;
};

const at = ({ x, y }: Scales, point: TrendPoint, value: number | null): string =>
  `${px(x(Date.parse(point.at)))} ${px(y(value ?? 0))}`;

const drawPiece = (piece: readonly TrendPoint[], scales: Scales, stroke: { colour: string; dash: string }): string => {
  const positive = (value: number | null, point: TrendPoint) => (value !== null && value > 0 ? value : point.value);
  const upper = piece.map((point) => at(scales, point, positive(point.max, point)));
  const lower = piece.map((point) => at(scales, point, positive(point.min, point))).reverse();
  const middle = piece.map((point) => at(scales, point, point.value));
  // One scan alone has no line: it is drawn as a short dash, which a viewer shows as a dot.
  const line = middle.length === 1 ? `M${middle[0]}h.1` : `M${middle.join('L')}`;
  const cap = middle.length === 1 ? ' stroke-linecap="round"' : '';
  return [
    `<path d="M${[...upper, ...lower].join('L')}Z" fill="${stroke.colour}" fill-opacity=".3" stroke="${stroke.colour}" stroke-opacity=".3" stroke-width=".6"/>`,
    `<path d="${line}" fill="none" stroke="${stroke.colour}" stroke-width="1.9"${cap}${stroke.dash === '' ? '' : ` stroke-dasharray="${stroke.dash}"`}/>`,
  ].join('');
};

const drawGas = (gas: string, { trend }: TicketFacts, scales: Scales): string => {
  const stroke = strokeOf(gas);
  const points = trend.series[gas] ?? [];
  const below = points.filter((point) => point.value === null && point.limit != null);
  const dots = below.map((point) => `<circle cx="${px(scales.x(Date.parse(point.at)))}" cy="${PLOT.bottom}" r="1.6"/>`);
  return `<g fill="${stroke.colour}">${pieces(points, trend.gaps)
    .map((piece) => drawPiece(piece, scales, stroke))
    .join('')}${dots.join('')}</g>`;
};

const drawAxes = (facts: TicketFacts, scales: Scales, powers: readonly number[]): string => {
  const { span, chamber, unit } = facts;
  const rows = powers.map((power) => {
    const y = px(scales.y(10 ** power));
    return `<path d="M${PLOT.left} ${y}H${PLOT.right}" stroke="#d4d4ce"/><text x="${PLOT.left - 8}" y="${y}" dy=".32em" text-anchor="end">${powerOfTen(power)}</text>`;
  });
  const columns = niceTimes(span.from, span.to, chamber.timeZone).map(({ ms, label }) => {
    const x = px(scales.x(ms));
    return `<path d="M${x} ${PLOT.bottom}v5" stroke="#151510"/><text x="${x}" y="${PLOT.bottom + 19}" text-anchor="middle">${label}</text>`;
  });
  return `${rows.join('')}${columns.join('')}<path d="M${PLOT.left} ${PLOT.top}V${PLOT.bottom}H${PLOT.right}" fill="none" stroke="#151510"/><text transform="translate(22 ${(PLOT.top + PLOT.bottom) / 2}) rotate(-90)" text-anchor="middle">partial pressure, ${unit}</text>`;
};

const drawGaps = ({ trend }: TicketFacts, { x }: Scales): string =>
  trend.gaps
    .map((gap) => {
      const left = x(Date.parse(gap.from));
      const width = x(Date.parse(gap.to)) - left;
      return `<rect x="${px(left)}" y="${PLOT.top}" width="${px(width)}" height="${PLOT.bottom - PLOT.top}" fill="url(#nothing)"/>`;
    })
    .join('');

const stateOf = (points: readonly TrendPoint[]): string => {
  if (points.length === 0) return ', not measured';
  return points.some(({ value }) => value !== null) ? '' : ', below detection';
};

const drawLegend = ({ gases, trend }: TicketFacts): string => {
  const rows = gases.map((gas, i) => {
    const { colour, dash } = strokeOf(gas);
    const y = PLOT.top + 8 + i * LEGEND_ROW;
    const name = `${gas} ${gasName(gas) === gas ? '' : gasName(gas)}${stateOf(trend.series[gas] ?? [])}`;
    return `<path d="M${PLOT.right + 16} ${y}h26" stroke="${colour}" stroke-width="1.9"${dash === '' ? '' : ` stroke-dasharray="${dash}"`}/><text x="${PLOT.right + 50}" y="${y}" dy=".32em">${escaped(name)}</text>`;
  });
  const y = PLOT.top + 20 + gases.length * LEGEND_ROW;
  const x = PLOT.right + 16;
  return `${rows.join('')}<circle cx="${x + 13}" cy="${y}" r="1.6"/><text x="${x + 34}" y="${y}" dy=".32em">below detection</text><rect x="${x}" y="${y + LEGEND_ROW - 6}" width="26" height="12" fill="url(#nothing)"/><text x="${x + 34}" y="${y + LEGEND_ROW}" dy=".32em">no scans</text>`;
};

const titleOf = ({ chamber, analyser, span, alert }: TicketFacts): string[] => {
  const zone = chamber.timeZone;
  const range = `${localTime(span.from, zone)} to ${localTime(span.to, zone)} (${zone})`;
  const head = `${chamber.name} (${chamber.id}), analyser ${analyser}`;
  return alert === null ? [head, range] : [head, range, alert.summary];
};

export const picture = (facts: TicketFacts): string => {
  const { span, trend } = facts;
  const powers = decades(
    facts.gases.flatMap((gas) => trend.series[gas] ?? []),
    trend.floor,
  );
  const [lowest, highest] = [powers[0] as number, powers.at(-1) as number];
  const spanMs = span.to.getTime() - span.from.getTime();
  const scales: Scales = {
    x: (ms) => PLOT.left + ((ms - span.from.getTime()) / spanMs) * (PLOT.right - PLOT.left),
    y: (value) => {
      const share = (Math.log10(value) - lowest) / (highest - lowest);
      return PLOT.bottom - Math.min(1, Math.max(0, share)) * (PLOT.bottom - PLOT.top);
    },
  };
  const versions = [
    ...new Set(facts.scans.map((scan) => `calibration ${scan.calibrationVersion}, catalogue ${scan.catalogueVersion}`)),
  ];
  const height = Math.max(PLOT.bottom + 60, PLOT.top + 60 + (facts.gases.length + 2) * LEGEND_ROW);
  const title = titleOf(facts);
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${height}" viewBox="0 0 ${WIDTH} ${height}" role="img" aria-labelledby="title" font-family="Fira Sans, DejaVu Sans, sans-serif" font-size="12" fill="#151510">`,
    `<title id="title">${escaped(title.join('. '))}</title>`,
    '<defs><pattern id="nothing" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V7" stroke="#81817a" stroke-width="1.5"/></pattern></defs>',
    `<rect width="${WIDTH}" height="${height}" fill="#fcfcfa"/>`,
    ...title.map(
      (line, i) =>
        `<text x="${PLOT.left}" y="${26 + i * 21}" font-size="${i === 0 ? 16 : 12.5}"${i === 0 ? ' font-weight="600"' : ''}>${escaped(line)}</text>`,
    ),
    drawGaps(facts, scales),
    drawAxes(facts, scales, powers),
    ...facts.gases.map((gas) => drawGas(gas, facts, scales)),
    drawLegend(facts),
    `<text x="${PLOT.left}" y="${height - 14}" font-size="11" fill="#42413b">${escaped(versions.slice(0, 2).join('; ') || 'no scans in this span')}; Ullage ${escaped(facts.version)}</text>`,
    '</svg>',
    '',
  ].join('\n');
};
