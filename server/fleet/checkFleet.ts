/** What a schema cannot say of a fleet document: whether its parts fit each other, the catalogue and the world's zones. */
import { resolveGas } from '../../shared/catalogue/select.ts';
import type { Analyser, Area, Chamber, FleetDocument } from '../../shared/contract/fleet.ts';
import type { FieldProblem } from '../schemaWords.ts';

/** More than this helps nobody to mend a document. */
const MOST_PROBLEMS = 100;

const isTimeZone = (zone: string): boolean => {
  try {
    new Intl.DateTimeFormat('en', { timeZone: zone });
    // Offsets like "+02:00" are taken by some engines, but say nothing about summer time.
    return /^[A-Za-z]/.test(zone);
  } catch {
    return false;
  }
};

const twice = (items: readonly { id: string }[], list: string): FieldProblem[] => {
  const seen = new Set<string>();
  return items.flatMap(({ id }, i) => {
    if (!seen.has(id)) {
      seen.add(id);
      return [];
    }
    return [{ path: `/${list}/${i}/id`, problem: `${id} stands twice in ${list}` }];
  });
};

const ofArea = (area: Area, path: string): FieldProblem[] => {
  const found: FieldProblem[] = [];
  if (area.timeZone !== undefined && !isTimeZone(area.timeZone))
    found.push({ path: `${path}/timeZone`, problem: `${area.timeZone} is not a time zone of the IANA database` });
  if (area.shifts !== undefined && new Set(area.shifts).size !== area.shifts.length)
    found.push({ path: `${path}/shifts`, problem: 'a shift starts twice' });
  return found;
};

const ofChamber = (chamber: Chamber, path: string, areas: ReadonlySet<string>): FieldProblem[] => {
  const found: FieldProblem[] = [];
  if (!areas.has(chamber.area)) found.push({ path: `${path}/area`, problem: `there is no area ${chamber.area}` });
  const unknownGas = (gas: string) => `${gas} is not in the catalogue (see GET /api/v1/gases)`;
  chamber.gases?.forEach((gas, i) => {
    if (resolveGas(gas) === null) found.push({ path: `${path}/gases/${i}`, problem: unknownGas(gas) });
  });
  for (const gas of Object.keys(chamber.pumpingSpeedLitresPerSecond ?? {}))
    if (resolveGas(gas) === null)
      found.push({ path: `${path}/pumpingSpeedLitresPerSecond/${gas}`, problem: unknownGas(gas) });
  return found;
};

const ofAnalyser = (analyser: Analyser, path: string, chambers: ReadonlySet<string>): FieldProblem[] => {
  const found: FieldProblem[] = [];
  if (!chambers.has(analyser.chamber))
    found.push({ path: `${path}/chamber`, problem: `there is no chamber ${analyser.chamber}` });
  const [first, last] = analyser.massRange ?? [];
  if (first !== undefined && last !== undefined && first >= last)
    found.push({ path: `${path}/massRange`, problem: `${first} is not below ${last}` });
  return found;
};

/** Everything that is wrong with the document by itself, at most a hundred problems of it. */
export const checkFleet = (document: FleetDocument): FieldProblem[] => {
  const areas = new Set(document.areas.map(({ id }) => id));
  const chambers = new Set(document.chambers.map(({ id }) => id));
  return [
    ...twice(document.areas, 'areas'),
    ...twice(document.chambers, 'chambers'),
    ...twice(document.analysers, 'analysers'),
    ...document.areas.flatMap((area, i) => ofArea(area, `/areas/${i}`)),
    ...document.chambers.flatMap((chamber, i) => ofChamber(chamber, `/chambers/${i}`, areas)),
    ...document.analysers.flatMap((analyser, i) => ofAnalyser(analyser, `/analysers/${i}`, chambers)),
  ].slice(0, MOST_PROBLEMS);
};
