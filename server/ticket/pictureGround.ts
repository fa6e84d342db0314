/** What stands behind, over and under the lines of the picture: axes, gaps, alerts, operating states, legend. */
import { SIGNATURES_BY_ID } from '../../shared/catalogue/signatures.ts';
import type { TrendPoint } from '../../shared/contract/readings.ts';
import { gasName } from '../gasNames.ts';
import { localTime } from '../localTime.ts';
import { niceTimes, powerOfTen } from './axes.ts';
import type { TicketFacts } from './facts.ts';
import { escaped, GREY, gapSeconds, INK, LEFT, lasting, px, ROW, type Scales, shortTime } from './paper.ts';
import { sample } from './pictureLines.ts';

/** Width of a letter, generously: words that may not fit are left out or set elsewhere. */
const SIGN = 6.4;

export const drawAxes = (facts: TicketFacts, { plot, x, y }: Scales, powers: readonly number[]): string => {
  const { span, chamber, unit } = facts;
  const rows = powers.map((power) => {
    const at = px(y(10 ** power));
    return `<path d="M${plot.left} ${at}H${plot.right}" stroke="#d4d4ce"/><text x="${plot.left - 8}" y="${at}" dy=".32em" text-anchor="end">${powerOfTen(power)}</text>`;
  });
  const columns = niceTimes(span.from, span.to, chamber.timeZone).map(({ ms, label }) => {
    const at = px(x(ms));
    return `<path d="M${at} ${plot.bottom}v5" stroke="${INK}"/><text x="${at}" y="${plot.bottom + 19}" text-anchor="middle">${label}</text>`;
  });
  const offset = localTime(span.to, chamber.timeZone).slice(20);
  return `${rows.join('')}${columns.join('')}<path d="M${plot.left} ${plot.top}V${plot.bottom}H${plot.right}" fill="none" stroke="${INK}"/><text transform="translate(22 ${px((plot.top + plot.bottom) / 2)}) rotate(-90)" text-anchor="middle">partial pressure, ${unit}</text><text x="${plot.right + 15}" y="${plot.bottom + 19}" fill="${GREY}">${offset}</text>`;
};

/** A gap has its length written in it where that fits; the legend tells how many there are, and how long in all. */
const WORDS_FROM = 14;

export const drawGaps = ({ trend }: TicketFacts, { plot, x }: Scales): string =>
  trend.gaps
    .map((gap) => {
      const left = Math.max(plot.left, x(Date.parse(gap.from)));
      const width = Math.min(plot.right, x(Date.parse(gap.to))) - left;
      const words =
        width < WORDS_FROM
          ? ''
          : `<text transform="translate(${px(left + width / 2 + 4)} ${plot.bottom - 26}) rotate(-90)" font-size="11" paint-order="stroke" stroke="#fcfcfa" stroke-width="4">no scans ${lasting(gapSeconds(gap))}</text>`;
      return `<rect x="${px(left)}" y="${plot.top}" width="${px(Math.max(1, width))}" height="${plot.bottom - plot.top}" fill="url(#nothing)"/>${words}`;
    })
    .join('');

const ALERT_ROWS = 2;
export const ALERT_ROW = 15;
export const ALERTS_HEIGHT = ALERT_ROWS * ALERT_ROW + 8;

/** A staff where an alert was raised, with its words above the plot; what has no room there stands in the summary. */
export const drawAlerts = (facts: TicketFacts, { plot, x }: Scales): string => {
  const takenTo = new Array<number>(ALERT_ROWS).fill(Number.NEGATIVE_INFINITY);
  return facts.alerts
    .map((alert) => ({ alert, ms: Date.parse(alert.raisedAt) }))
    .filter(({ ms }) => ms >= facts.span.from.getTime() && ms <= facts.span.to.getTime())
    .map(({ alert, ms }) => {
      const words = `${shortTime(ms, facts)} ${SIGNATURES_BY_ID[alert.signature].title}, ${alert.priority}`;
      const at = x(ms);
      const width = words.length * SIGN + 10;
      // Near the right edge the words stand to the left of their staff.
      const left = at + width > plot.right + 110 ? at - width : at;
      const row = takenTo.findIndex((end) => end <= left);
      const staff = `<path d="M${px(at)} ${plot.top - (row === -1 ? 4 : 6 + row * ALERT_ROW)}V${plot.bottom}" stroke="${INK}" stroke-width="1.2"/>`;
      if (row === -1) return staff;
      takenTo[row] = left + width;
      const anchor = left < at ? 'end' : 'start';
      return `${staff}<text x="${px(left < at ? at - 5 : at + 5)}" y="${px(plot.top - 8 - row * ALERT_ROW)}" font-size="11.5" text-anchor="${anchor}">${escaped(words)}</text>`;
    })
    .join('');
};

export const RIBBON_HEIGHT = 18;

/** Operating states, as the scans of the span carried them. */
export const drawStates = ({ scans, span }: TicketFacts, { plot, x }: Scales): string => {
  const changes = scans.filter((scan, i) => scan.state !== scans[i - 1]?.state);
  const top = plot.bottom + 30;
  const blocks = changes.map(({ at, state }, i) => {
    const left = Math.max(plot.left, x(at.getTime()));
    const next = changes[i + 1]?.at ?? scans.at(-1)?.at ?? span.to;
    const width = Math.max(1, Math.min(plot.right, x(next.getTime())) - left);
    const words =
      width < state.length * SIGN + 8
        ? ''
        : `<text x="${px(left + 5)}" y="${top + 13}" font-size="11.5">${escaped(state)}</text>`;
    return `<rect x="${px(left)}" y="${top}" width="${px(width)}" height="${RIBBON_HEIGHT}" fill="${state === 'base' ? '#fcfcfa' : '#e2e2dc'}" stroke="#81817a"/>${words}`;
  });
  return `<text x="${plot.left - 8}" y="${top + 13}" text-anchor="end">state</text>${blocks.join('')}`;
};

const stateOf = (points: readonly TrendPoint[]): string => {
  if (points.length === 0) return ', not measured';
  return points.some(({ value }) => value !== null) ? '' : ', below detection';
};

const COLUMNS = 4;
const COLUMN = 232;

const gapsTold = ({ trend }: TicketFacts): string => {
  if (trend.gaps.length === 0) return 'no scans: nowhere in this span';
  const seconds = trend.gaps.reduce((sum, gap) => sum + gapSeconds(gap), 0);
  return `no scans: ${trend.gaps.length} gap${trend.gaps.length === 1 ? '' : 's'}, ${lasting(seconds)} in all`;
};

interface Entry {
  readonly sign: (x: number, y: number) => string;
  readonly words: string;
}

const entries = (drawn: readonly string[], facts: TicketFacts): Entry[] => [
  ...drawn.map((gas) => ({
    sign: (x: number, y: number) => sample(gas, x, y),
    words: `${gas}${gasName(gas) === gas ? '' : ` ${gasName(gas)}`}${stateOf(facts.trend.series[gas] ?? [])}`,
  })),
  {
    sign: (x, y) =>
      `<rect x="${x}" y="${y - 5}" width="30" height="10" fill="${GREY}" fill-opacity=".3"/><path d="M${x} ${y}h30" stroke="${GREY}" stroke-width="1.9"/>`,
    words: 'median, least to greatest',
  },
  {
    sign: (x, y) => [3, 15, 27].map((by) => `<circle cx="${x + by}" cy="${y}" r="1.5" fill="${GREY}"/>`).join(''),
    words: 'below detection',
  },
  {
    sign: (x, y) => `<rect x="${x}" y="${y - 6}" width="30" height="12" fill="url(#nothing)"/>`,
    words: gapsTold(facts),
  },
];

/** @returns the legend and how high it is */
export const drawLegend = (
  drawn: readonly string[],
  facts: TicketFacts,
  top: number,
): { text: string; height: number } => {
  const all = entries(drawn, facts);
  const cells = all.map(({ sign, words }, i) => {
    const x = LEFT + (i % COLUMNS) * COLUMN;
    const y = top + Math.floor(i / COLUMNS) * ROW;
    return `${sign(x, y)}<text x="${x + 38}" y="${y}" dy=".32em" font-size="11.5">${escaped(words)}</text>`;
  });
  return { text: cells.join(''), height: Math.ceil(all.length / COLUMNS) * ROW };
};
