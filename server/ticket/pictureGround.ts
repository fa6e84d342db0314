/** What stands behind and under the lines of the picture: axes, gaps, operating states, legend. */
import type { TrendPoint } from '../../shared/contract/readings.ts';
import { gasName } from '../gasNames.ts';
import { localTime } from '../localTime.ts';
import { niceTimes, powerOfTen } from './axes.ts';
import type { TicketFacts } from './facts.ts';
import { escaped, GREY, gapSeconds, INK, LEFT, lasting, px, ROW, type Scales, SIGN } from './paper.ts';
import { sample } from './pictureLines.ts';
import { calls, flag } from './pictureStaffs.ts';

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
  return `${rows.join('')}${columns.join('')}<path d="M${plot.left} ${plot.top}V${plot.bottom}H${plot.right}" fill="none" stroke="${INK}"/><text transform="translate(22 ${px((plot.top + plot.bottom) / 2)}) rotate(-90)" text-anchor="middle">partial pressure, ${unit}</text><text x="${plot.right + 24}" y="${plot.bottom + 19}" fill="${GREY}">${offset}</text>`;
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

const staff = (x: number, y: number): string => `<path d="M${x + 8} ${y - 7}v14" stroke="${INK}" stroke-width="1.2"/>`;

/** Only what stands in this picture. */
const staffEntries = ({ alerts, notes }: TicketFacts): Entry[] => {
  const flown = (calling: boolean) => (x: number, y: number) =>
    `${staff(x, y)}${flag('high', calling ? 'unacknowledged' : 'acknowledged', x + 8, y - 7)}`;
  return [
    ...(alerts.some(({ state }) => calls(state)) ? [{ sign: flown(true), words: 'alert that calls' }] : []),
    ...(alerts.some(({ state }) => !calls(state)) ? [{ sign: flown(false), words: 'alert, known or over' }] : []),
    ...(notes.some(({ withdrawnAt }) => withdrawnAt === null) ? [{ sign: staff, words: 'note of a person' }] : []),
  ];
};

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
  ...staffEntries(facts),
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
