import type { AnalyserMeasurement } from '../../shared/contract/measurement.ts';
import { Section } from '../frame/Section.tsx';
import { useUnit } from '../frame/site.ts';
import { gasSpoken, gasTitle } from '../notation/gas.ts';
import { brief, factor, timesInWords } from '../notation/number.ts';
import { pressure } from '../notation/pressure.ts';
import { words as all } from '../strings/analyser.ts';
import { Rich } from '../strings/Rich.tsx';
import { DetectionMultiple } from './DetectionMultiple.tsx';
import { type FloorLine, floorPlaces } from './floorPlaces.ts';

const words = all.floorsSection;

/** From here on, what the other gases cost is worth a word. */
const COSTS_FROM = 1.5;

/** What follows for one gas. */
export function floorSays({ detected, floor, limit, value }: FloorLine): string {
  if (detected) {
    const above = value !== null && floor !== null && value > floor && floor > 0;
    return above ? words.seenItsFloor(timesInWords(Math.log10(value / floor))) : words.seenInTheLast;
  }
  if (limit === null || limit <= 0) return words.cannotTellThisScan;
  if (floor === null || floor <= 0) return words.notSeenAtMost;
  const times = limit / floor;
  return times < COSTS_FROM ? words.notSeenTheNoise : words.notSeenOtherGases(factor(Math.log10(times)).slice(1));
}

export function FloorsSection({ measured }: { readonly measured: AnalyserMeasurement }) {
  return (
    <Section className="sec" margin={<Rich text={words.paleHiddenByNoise} parts={{ br: () => <br /> }} />}>
      <h2>{words.gasByGasThe}</h2>
      {measured.floors.length === 0 ? (
        <p className="note">{words.theFirstScanSays}</p>
      ) : (
        <FloorTable floors={measured.floors} multiple={measured.detectionMultiple} />
      )}
      <div className="multiple">
        <DetectionMultiple multiple={measured.detectionMultiple} />
      </div>
    </Section>
  );
}

const PICTURE_HEIGHT = 30;
const PICTURE_WIDTH = 230;

function FloorTable({ floors, multiple }: { readonly floors: readonly FloorLine[]; readonly multiple: number }) {
  const unit = useUnit();
  const { place, decades } = floorPlaces(floors);
  const x = (value: number) => place(value) * PICTURE_WIDTH;
  return (
    <table className="evtab floors">
      <thead>
        <tr>
          <th scope="col">{words.gas}</th>
          <th scope="col">{words.noiseAlone(brief(multiple))}</th>
          <th scope="col">{words.atMostInThis}</th>
          <th scope="col">{words.oneOfAChange}</th>
          <th scope="col" className="picture">
            {words.oneLineIsA}
          </th>
          <th scope="col">{words.so}</th>
        </tr>
      </thead>
      <tbody>
        {floors.map((line) => (
          <tr key={line.gas}>
            <th scope="row">
              {gasTitle(line.gas)}
              {gasSpoken(line.gas) === gasTitle(line.gas) ? null : <span className="note"> {gasSpoken(line.gas)}</span>}
            </th>
            <td className="num" data-name={words.noiseAlone(brief(multiple))}>
              {pressure(line.floor, unit)}
            </td>
            <td className="num" data-name={words.atMostInThis}>
              {line.detected ? words.seen : line.limit === null ? words.cannotTell : pressure(line.limit, unit)}
            </td>
            <td className="num" data-name={words.oneOfAChange}>
              {pressure(line.changeSigma, unit)}
            </td>
            <td className="picture flush">
              <svg className="ev" width={PICTURE_WIDTH} height={PICTURE_HEIGHT} aria-hidden="true">
                {line.floor !== null && line.floor > 0 ? (
                  <rect className="st-well" y="5" width={x(line.floor)} height={PICTURE_HEIGHT - 10} />
                ) : null}
                {decades.map((decade) => (
                  <path key={decade} className="decade" d={`M${x(decade)} 0V${PICTURE_HEIGHT}`} />
                ))}
                {!line.detected && line.limit !== null && line.limit > 0 ? (
                  <AtMost at={Math.max(24, x(line.limit))} />
                ) : null}
              </svg>
            </td>
            <td>
              <span className="so">{floorSays(line)}</span>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function AtMost({ at }: { readonly at: number }) {
  const middle = PICTURE_HEIGHT / 2;
  return <path className="ev-arrow" d={`M${at} ${middle - 6}v12m0 -6h-18m5.5 -4l-5.5 4l5.5 4`} />;
}
