import type { ReactNode } from 'react';
import { Link } from 'wouter';
import type { Comparison } from '../../shared/contract/comparison.ts';
import { useUnit } from '../frame/site.ts';
import { gasSpoken, gasTitle } from '../notation/gas.ts';
import { plain } from '../notation/number.ts';
import { NBSP } from '../notation/pressure.ts';
import { sentenceIn } from '../notation/sentence.ts';
import { words } from '../strings/compare.ts';
import { useNarrow, useWindowWidth } from '../strip/useLayout.ts';
import { GasHead } from './GasHead.tsx';
import { RatioAxis, RatioPicture } from './RatioPicture.tsx';
import { ratioScale } from './ratioScale.ts';
import { byDifference, type ComparedGas, isUnseen, ratioText, shownText } from './words.ts';

/** Widths of the picture; the style sheet puts the pale block in its middle. */
const WIDE = 300;
const MIDDLE = 200;
const NARROW = 250;
/** Below this the columns of the table need the room. */
const WIDE_FROM = 1180;

/** Gas by gas: what each of the two shows, and the ratio of the two once both are related to the chosen gas. */
export function ComparisonTable({ comparison }: { readonly comparison: Comparison }) {
  const narrow = useNarrow();
  const window = useWindowWidth();
  const width = narrow ? NARROW : window > WIDE_FROM ? WIDE : MIDDLE;
  const [first, second] = comparison.analysers;
  const gases = byDifference(comparison.gases.filter((gas) => !isUnseen(gas)));
  const unseen = comparison.gases.filter(isUnseen);
  const scale = ratioScale(gases);
  const unit = useUnit();
  if (gases.length === 0) return <p className="note">{words.neitherShows}</p>;
  return (
    <>
      <table className="evtab compared">
        <thead>
          <tr>
            <th scope="col">{words.gas}</th>
            <th scope="col">
              <AnalyserLink id={first} />
            </th>
            <th scope="col">
              <AnalyserLink id={second} />
            </th>
            <th scope="col">{words.secondOverFirst}</th>
            <th scope="col">{words.ratioRelativeTo(gasTitle(comparison.relativeTo))}</th>
            <th scope="col">{words.so}</th>
          </tr>
        </thead>
        <tbody>
          {gases.map((gas) => (
            <GasRow
              key={gas.gas}
              gas={gas}
              names={comparison.analysers}
              picture={<RatioPicture ratio={gas} scale={scale} width={width} />}
            />
          ))}
        </tbody>
        <tfoot>
          <tr className="axis-row">
            <td colSpan={4} />
            <td className="picture flush">
              <RatioAxis scale={scale} width={width} />
            </td>
            <td />
          </tr>
        </tfoot>
      </table>
      {unseen.length === 0 ? null : (
        <details className="undetected">
          <summary>{words.unseenTwo(unseen.length)}</summary>
          <dl className="pressures">
            {unseen.map(({ gas, first: one, second: other }) => (
              <div key={gas}>
                <dt>{gasTitle(gas)}</dt>
                <dd>{[one, other].map((side) => shownText(side, unit)).join(', ')}</dd>
              </div>
            ))}
          </dl>
        </details>
      )}
    </>
  );
}

function AnalyserLink({ id }: { readonly id: string }) {
  return (
    <Link className="code" href={`/measurement/${encodeURIComponent(id)}`}>
      {id}
    </Link>
  );
}

interface GasRowProps {
  readonly gas: ComparedGas;
  readonly names: Comparison['analysers'];
  readonly picture: ReactNode;
}

/** Below this share of scans the mean of a gas is worth a word of caution. */
const OFTEN = 0.95;

function GasRow({ gas, names, picture }: GasRowProps) {
  const unit = useUnit();
  const seldom = (share: number) =>
    share > 0 && share < OFTEN ? <span className="note"> {words.seldom(`${plain(share * 100)}${NBSP}%`)}</span> : null;
  return (
    <tr>
      <GasHead gas={gas.gas} spoken={gasSpoken(gas.gas)} />
      <td className="num" data-name={names[0]}>
        {shownText(gas.first, unit)}
        {seldom(gas.first.detectedShare)}
      </td>
      <td className="num" data-name={names[1]}>
        {shownText(gas.second, unit)}
        {seldom(gas.second.detectedShare)}
      </td>
      <td className="num" data-name={words.secondOverFirstIn}>
        {ratioText(gas)}
      </td>
      <td className="picture flush">{picture}</td>
      <td>
        <span className="so">{sentenceIn(gas.verdict, unit)}</span>
      </td>
    </tr>
  );
}
