/**
 * The trend as a picture for a file: our own SVG, because it must look the same in every viewer, on paper and in grey.
 * The same facts always give the same bytes. Reads like the trend of the page: log axis, line with its extremes as a
 * fill, dots on the floor line below detection, hatch where no scan is. Everything that is needed to believe it stands
 * inside it: what, when with offset, in which unit, by what it was worked out.
 */
import { localTime } from '../localTime.ts';
import { decades } from './axes.ts';
import { wrapped } from './endLabels.ts';
import type { TicketFacts } from './facts.ts';
import { escaped, GREY, INK, LEFT, PLOT_HEIGHT, RIGHT, ROW, scalesOf, WIDTH } from './paper.ts';
import { drawAxes, drawGaps, drawLegend, drawStates, RIBBON_HEIGHT } from './pictureGround.ts';
import { drawEnds, drawFloor, drawGases } from './pictureLines.ts';
import { drawStaffs, STAFFS_HEIGHT } from './pictureStaffs.ts';
import { drawable } from './strokes.ts';
import { calibrationVersions, catalogueVersions } from './versions.ts';

interface Line {
  readonly text: string;
  readonly large?: boolean;
}

const HEAD_SIGNS = 105;
const LINE_SIGNS = 150;

const titleOf = ({ site, chamber, analyser, span, alert, scans }: TicketFacts): Line[] => {
  const zone = chamber.timeZone;
  const range = `${localTime(span.from, zone)} to ${localTime(span.to, zone)} (${zone}), ${scans.length} scans`;
  const head = `${chamber.name} (${chamber.id}), analyser ${analyser}`;
  return [
    ...wrapped(head, HEAD_SIGNS).map((text) => ({ text, large: true })),
    ...wrapped(`${site}, ${chamber.areaName}. ${range}`, LINE_SIGNS).map((text) => ({ text })),
    ...(alert === null ? [] : wrapped(alert.summary, LINE_SIGNS).map((text) => ({ text }))),
  ];
};

/** A long history of calibrations is told whole in the summary. */
const MOST_VERSIONS = 4;

const some = (versions: readonly string[]): string =>
  versions.length <= MOST_VERSIONS
    ? versions.join(', ')
    : `${versions.slice(0, MOST_VERSIONS).join(', ')} and ${versions.length - MOST_VERSIONS} more, see summary.md`;

const footOf = (facts: TicketFacts, left: readonly string[]): string[] => {
  const calibrations = calibrationVersions(facts);
  const catalogues = catalogueVersions(facts);
  return [
    ...(left.length === 0 ? [] : [`Not drawn, for want of a line of its own, but in the tables: ${left.join(', ')}.`]),
    calibrations.length === 0
      ? 'No scans in this span.'
      : `Calibration ${some(calibrations)}; catalogue ${some(catalogues)}.`,
    `Ullage ${facts.version}. Intervals and every scan: scans.csv of the same ticket.`,
  ].flatMap((line) => wrapped(line, LINE_SIGNS));
};

const written = (lines: readonly string[], top: number, style: string): string =>
  lines.map((line, i) => `<text x="${LEFT}" y="${top + i * ROW}" ${style}>${escaped(line)}</text>`).join('');

export const picture = (facts: TicketFacts): string => {
  const drawn = drawable(facts.gases);
  const left = facts.gases.filter((gas) => !drawn.includes(gas));
  const powers = decades(
    drawn.flatMap((gas) => facts.trend.series[gas] ?? []),
    facts.trend.floor,
  );
  const title = titleOf(facts);
  const top = 22 + title.length * ROW + STAFFS_HEIGHT;
  const plot = { left: LEFT, right: RIGHT, top, bottom: top + PLOT_HEIGHT };
  const scales = scalesOf(facts, plot, powers);
  const legendTop = plot.bottom + 30 + RIBBON_HEIGHT + ROW + 4;
  const legend = drawLegend(drawn, facts, legendTop);
  const footTop = legendTop + legend.height + 12;
  const foot = footOf(facts, left);
  const height = footTop + foot.length * ROW;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${height}" viewBox="0 0 ${WIDTH} ${height}" role="img" aria-labelledby="title" font-family="Fira Sans, DejaVu Sans, sans-serif" font-size="12" fill="${INK}">`,
    `<title id="title">${escaped(title.map(({ text }) => text).join('. '))}</title>`,
    '<defs><pattern id="nothing" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V7" stroke="#81817a" stroke-width="1.5"/></pattern></defs>',
    `<rect width="${WIDTH}" height="${height}" fill="#fcfcfa"/>`,
    ...title.map(
      ({ text, large }, i) =>
        `<text x="${LEFT}" y="${24 + i * ROW}" ${large ? 'font-size="16" font-weight="600"' : 'font-size="12.5"'}>${escaped(text)}</text>`,
    ),
    drawGaps(facts, scales),
    drawAxes(facts, scales, powers),
    drawFloor(facts, scales),
    drawGases(drawn, facts, scales),
    drawEnds(drawn, facts, scales),
    drawStaffs(facts, scales),
    drawStates(facts, scales),
    legend.text,
    written(foot, footTop, `font-size="11" fill="${GREY}"`),
    '</svg>',
    '',
  ].join('\n');
};
