import type { Measure } from '../../shared/contract/performance.ts';
import { capital } from '../notation/sentence.ts';
import { words } from '../strings/performance.ts';

import { metWord, valueText } from './words.ts';

const WIDTH = 160;
const HEIGHT = 30;
/** The target's bed always has the same place and width, so that the beds of all rows join into one channel. */
const BED = 92;
const EDGE = 4;

/** Every measure beside its target, with where the target is from. */
export function MeasureTable({ measures }: { readonly measures: readonly Measure[] }) {
  return (
    <table className="evtab measures">
      <thead>
        <tr>
          <th scope="col">{words.measure}</th>
          <th scope="col">{words.found}</th>
          <th scope="col" className="picture">
            {words.withinTarget}
          </th>
          <th scope="col">{words.target}</th>
          <th scope="col">{words.so}</th>
        </tr>
      </thead>
      <tbody>
        {measures.map((measure) => (
          <MeasureRow key={measure.id} measure={measure} />
        ))}
      </tbody>
    </table>
  );
}

function MeasureRow({ measure }: { readonly measure: Measure }) {
  const { name, value, target, targetHigh, source, met } = measure;
  const isDrawn = value !== null && targetHigh !== null;
  return (
    <tr>
      <th scope="row">{name}</th>
      <td className="num" data-name={words.found}>
        {value === null ? <span className="ink3">{words.tooLittleToSay}</span> : valueText(measure)}
      </td>
      <td className={isDrawn ? 'picture target' : 'picture'}>
        {isDrawn ? <TargetPicture value={value} high={targetHigh} /> : null}
      </td>
      <td data-name={words.target}>
        {target}
        <span className="note source">{source}</span>
      </td>
      <td>
        <span className="so">{met === false ? <b>{capital(metWord(measure))}</b> : capital(metWord(measure))}</span>
      </td>
    </tr>
  );
}

/** Dash: what was found, on a linear axis that begins at none. Beyond the picture an arrow; the number is beside it. */
function TargetPicture({ value, high }: { readonly value: number; readonly high: number }) {
  const share = high === 0 ? (value === 0 ? 0 : Number.POSITIVE_INFINITY) : value / high;
  const x = EDGE + share * (BED - EDGE);
  const beyond = x > WIDTH - EDGE;
  const middle = HEIGHT / 2;
  return (
    <svg className="ev" width={WIDTH} height={HEIGHT} aria-hidden="true">
      {beyond ? (
        <path className="ev-arrow" d={`M${EDGE} ${middle}H${WIDTH - EDGE}m-6 -4l6 4l-6 4`} />
      ) : (
        <rect className="ev-dash" x={x - 2} y={middle - 8} width="4" height="16" />
      )}
    </svg>
  );
}
