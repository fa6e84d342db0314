/** Two analysers on one chamber compared. */
import { GASES } from '../../shared/catalogue/gases.ts';
import { resolveGas } from '../../shared/catalogue/select.ts';
import { Comparison } from '../../shared/contract/comparison.ts';
import type { Note } from '../../shared/contract/readings.ts';
import { object, type Static, Type } from '../../shared/contract/schema.ts';
import type { PressureUnit } from '../../shared/contract/words.ts';
import { readMeasurement } from '../../shared/db/measurement.ts';
import { countReadings, readScanFacts } from '../../shared/db/ticketFacts.ts';
import { compare, type SideMean, sayRefusal } from '../../shared/measurement/comparison.ts';
import { IONISER_GASES } from '../../shared/measurement/comparisonWords.ts';
import { findAnalyser, type KnownAnalyser } from '../analysers.ts';
import type { App, Deps } from '../deps.ts';
import { impossible, notFound } from '../errors.ts';
import { gasName } from '../gasNames.ts';
import { iso } from '../instant.ts';
import { plain, pressure, rounded } from '../present.ts';
import { readSpan, type Span, SpanQuery } from '../span.ts';
import { ChamberParams, checkChamber, Unit } from './chambers.ts';

/** A day of a scan every 17 s; more would hold up other requests for too long. */
const MOST_SCANS = 5000;

interface Asked {
  chamber: string;
  first: string;
  second: string;
  relativeTo: string;
  span: Span;
  unit: PressureUnit;
}

const analyserAt = async (deps: Deps, chamber: string, id: string): Promise<KnownAnalyser> => {
  const known = await findAnalyser(deps, id);
  if (known.chamber !== chamber) throw notFound(`Chamber ${chamber} has no analyser ${id}.`);
  return known;
};

const scansOf = async ({ db }: Deps, analyser: KnownAnalyser, { from, to }: Span) => {
  const place = { chamber: analyser.chamber, analyser: analyser.id, from, to };
  const count = await countReadings(db.sql, place);
  if (count > MOST_SCANS)
    throw impossible('from', `the span holds ${count} scans of ${analyser.id}; ask for one of at most ${MOST_SCANS}`);
  const [facts, measured] = await Promise.all([
    readScanFacts(db.sql, place),
    readMeasurement(db.sql, { analyser: analyser.id, at: to }),
  ]);
  const answered = facts.filter(({ gases }) => gases.length > 0);
  return {
    analyser: analyser.id,
    scans: answered.map(({ at, gases }) => ({ atMs: at.getTime(), gases })),
    sensitivityErrors: measured?.measurement?.sensitivityErrors ?? null,
  };
};

const notesOf = (analysers: readonly KnownAnalyser[], relativeTo: string): Note[] => {
  const traps = analysers.filter(({ document }) => document.principle === 'ion trap');
  const notes: Note[] = [];
  if (traps.length > 0)
    notes.push({
      code: 'ratios-only',
      text: `An ion trap (${traps.map(({ id }) => id).join(', ')}) gives shares that are scaled to the gauge: only the ratios mean anything here, not the pressures side by side.`,
    });
  if (IONISER_GASES.has(relativeTo))
    notes.push({
      code: 'reference-may-be-made',
      text: `Hot ionisers make ${gasName(relativeTo)} themselves, so an analyser that adds it looks poor in everything else. Water, nitrogen or argon tell more.`,
    });
  notes.push({
    code: 'intervals-wide',
    text: 'Noise is averaged over the span, and what both analysers take from the catalogue drops out; their patterns are taken as unrelated, which they are not quite: the intervals are rather too wide.',
  });
  return notes;
};

/** In the order of the catalogue, as everywhere else. */
const ORDER = new Map<string, number>(GASES.map(({ id }, place) => [id, place]));
const byCatalogue = (a: { gas: string }, b: { gas: string }): number =>
  (ORDER.get(a.gas) ?? ORDER.size) - (ORDER.get(b.gas) ?? ORDER.size);

const answer = async (deps: Deps, asked: Asked): Promise<Static<typeof Comparison>> => {
  const { chamber, span, unit } = asked;
  await checkChamber(deps, chamber);
  const relativeTo = resolveGas(asked.relativeTo);
  if (relativeTo === null)
    throw impossible('relativeTo', `${asked.relativeTo} is not in the catalogue (see GET /api/v1/gases)`);
  if (asked.first === asked.second) throw impossible('second', 'is the same analyser as first');
  const analysers = [
    await analyserAt(deps, chamber, asked.first),
    await analyserAt(deps, chamber, asked.second),
  ] as const;
  const [first, second] = [await scansOf(deps, analysers[0], span), await scansOf(deps, analysers[1], span)];
  const found = compare({ first, second, relativeTo, nameOf: gasName });
  if ('refused' in found)
    throw found.refused === 'not detected'
      ? impossible('relativeTo', `${gasName(relativeTo)} ${sayRefusal(found.refused)}`)
      : impossible('from', sayRefusal(found.refused));
  const side = ({ valuePa, lowPa, highPa, detectedShare }: SideMean) => ({
    value: pressure(valuePa, unit),
    low: pressure(lowPa, unit),
    high: pressure(highPa, unit),
    detectedShare: rounded(detectedShare),
  });
  return {
    chamber,
    analysers: [asked.first, asked.second],
    from: iso(span.from),
    to: iso(span.to),
    unit,
    relativeTo,
    scans: [first.scans.length, second.scans.length],
    gases: found.gases.toSorted(byCatalogue).map((gas) => ({
      ...gas,
      first: side(gas.first),
      second: side(gas.second),
      ratio: plain(gas.ratio),
      ratioLow: plain(gas.ratioLow),
      ratioHigh: plain(gas.ratioHigh),
    })),
    addsGas: found.addsGas && { ...found.addsGas, gases: [...found.addsGas.gases] },
    verdict: found.verdict,
    notes: notesOf(analysers, relativeTo),
  };
};

export const comparisonRoutes = (app: App, deps: Deps): void => {
  const id = Type.String({ minLength: 1, maxLength: 64 });
  app.get(
    '/api/v1/chambers/:id/comparison',
    {
      schema: {
        summary: 'Two analysers on one chamber, each gas as a ratio to a chosen one, and which adds gas of its own',
        tags: ['measurement'],
        params: ChamberParams,
        querystring: object({
          first: id,
          second: id,
          relativeTo: Type.String({ minLength: 1, maxLength: 60, description: 'A gas that both see' }),
          ...SpanQuery,
          unit: Type.Optional(Unit),
        }),
        response: { 200: Comparison },
      },
      config: { policy: 'viewer' },
    },
    ({ params, query: { first, second, relativeTo, unit = 'Pa', ...span } }) =>
      answer(deps, { chamber: params.id, first, second, relativeTo, unit, span: readSpan(span, deps.now()) }),
  );
};
