import type { BeforeAfter } from '../../shared/contract/beforeAfter.ts';
import { fromPascal, type PressureUnit } from '../../shared/units.ts';
import { useUnit } from '../frame/site.ts';
import { gasSpoken, gasTitle } from '../notation/gas.ts';
import { plain } from '../notation/number.ts';
import { NBSP, reportedPressure } from '../notation/pressure.ts';
import { words as compared } from '../strings/compare.ts';
import { words } from '../strings/compareBefore.ts';
import { useNarrow, useWindowWidth } from '../strip/useLayout.ts';
import { type ComparedGas, isUnseen, judgementText } from './beforeWords.ts';
import { courseText } from './courseWords.ts';
import { factorText } from './factor.ts';
import { GasHead } from './GasHead.tsx';
import { LadderAxis, LadderPicture } from './LadderPicture.tsx';
import { type Ladder, ladderOf } from './ladderScale.ts';

/** Widths of the picture: what the columns leave at each size of the window. */
const WIDE = 400;
const MIDDLE = 330;
const WIDE_FROM = 1380;
/** Margin, rule, edges. */
const NARROW_EDGES = 62;

export const usePictureWidth = (): number => {
  const window = useWindowWidth();
  return useNarrow() ? Math.max(200, Math.min(420, window - NARROW_EDGES)) : window > WIDE_FROM ? WIDE : MIDDLE;
};

const inUnit = (gas: ComparedGas, unit: PressureUnit): ComparedGas => {
  const told = (value: number | null) => (value === null ? null : fromPascal(value, unit));
  const side = (one: ComparedGas['before']) =>
    one && {
      ...one,
      value: told(one.value),
      high: told(one.high),
      comparedLow: told(one.comparedLow),
      comparedHigh: told(one.comparedHigh),
    };
  const usual = gas.usual && { low: fromPascal(gas.usual.low, unit), high: fromPascal(gas.usual.high, unit) };
  return { ...gas, before: side(gas.before), after: side(gas.after), usual };
};

/** Gas by gas: before, after, the factor between them, and what follows. Numbers are pascal, the picture is in the unit. */
export function LadderTable({ answer }: { readonly answer: BeforeAfter }) {
  const unit = useUnit();
  const width = usePictureWidth();
  const seen = answer.gases.filter((gas) => !isUnseen(gas));
  const unseen = answer.gases.filter(isUnseen);
  const drawn = seen.map((gas) => inUnit(gas, unit));
  const ladder = ladderOf(drawn);
  return (
    <>
      {seen.length === 0 ? null : (
        <table className="evtab compared ladders">
          <thead>
            <tr>
              <th scope="col">{compared.gas}</th>
              <th scope="col">{words.before}</th>
              <th scope="col">{words.after}</th>
              <th scope="col">{words.picture(unit)}</th>
              <th scope="col">{words.factor}</th>
              <th scope="col">{compared.so}</th>
            </tr>
          </thead>
          <tbody>
            {seen.map((gas, k) => (
              <LadderRow key={gas.gas} gas={gas} drawn={drawn[k] as ComparedGas} ladder={ladder} width={width} />
            ))}
          </tbody>
          <tfoot>
            <tr className="axis-row">
              <td colSpan={3} />
              <td className="picture flush">
                <LadderAxis ladder={ladder} width={width} />
              </td>
              <td colSpan={2} />
            </tr>
          </tfoot>
        </table>
      )}
      {unseen.length === 0 ? null : (
        <details className="undetected">
          <summary>{words.unseen(unseen.length)}</summary>
          <dl className="pressures">
            {unseen.map(({ gas, before, after }) => (
              <div key={gas}>
                <dt>{gasTitle(gas)}</dt>
                <dd>{[before, after].map((side) => sideText(side, unit)).join(', ')}</dd>
              </div>
            ))}
          </dl>
        </details>
      )}
    </>
  );
}

const sideText = (side: ComparedGas['before'], unit: PressureUnit): string =>
  reportedPressure(side ? { ...side, detected: side.value !== null } : undefined, unit);

interface LadderRowProps {
  readonly gas: ComparedGas;
  readonly drawn: ComparedGas;
  readonly ladder: Ladder;
  readonly width: number;
}

/** Below this share of scans the middle of a gas is worth a word of caution. */
const OFTEN = 0.95;

function LadderRow({ gas, drawn, ladder, width }: LadderRowProps) {
  const unit = useUnit();
  const more = (side: ComparedGas['before']) => {
    if (side === null || side.value === null) return null;
    const course = courseText(side);
    return (
      <>
        {side.detectedShare < OFTEN ? (
          <span className="note"> {compared.seldom(`${plain(side.detectedShare * 100)}${NBSP}%`)}</span>
        ) : null}
        {course === null ? null : <span className="note course">{course}</span>}
      </>
    );
  };
  return (
    <tr className={gas.inAlert ? 'meant' : undefined}>
      <GasHead gas={gas.gas} spoken={gasSpoken(gas.gas)} />
      <td className="num" data-name={words.before}>
        {sideText(gas.before, unit)}
        {more(gas.before)}
      </td>
      <td className="num" data-name={words.after}>
        {sideText(gas.after, unit)}
        {more(gas.after)}
      </td>
      <td className="picture flush">
        <LadderPicture gas={drawn} ladder={ladder} width={width} />
      </td>
      <td className="num" data-name={words.factor}>
        {factorText(gas)}
      </td>
      <td>
        <span className="so">{judgementText(gas)}</span>
      </td>
    </tr>
  );
}
