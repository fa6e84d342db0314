import type { ReactNode } from 'react';
import { Link } from 'wouter';
import type { Comparison } from '../../shared/contract/comparison.ts';
import { useUnit } from '../frame/site.ts';
import { gasSpoken, gasTitle } from '../notation/gas.ts';
import { plain } from '../notation/number.ts';
import { NBSP } from '../notation/pressure.ts';
import { sentenceIn } from '../notation/sentence.ts';
import { useNarrow, useWindowWidth } from '../strip/useLayout.ts';
import { RatioAxis, RatioPicture } from './RatioPicture.tsx';
import { ratioScale } from './ratioScale.ts';
import { byDifference, type ComparedGas, ratioText, shownText } from './words.ts';

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
  const gases = byDifference(comparison.gases);
  const scale = ratioScale(gases);
  if (gases.length === 0) {
    return <p className="note">Neither analyser shows a gas in this span: choose a longer one.</p>;
  }
  return (
    <table className="evtab compared">
      <thead>
        <tr>
          <th scope="col">Gas</th>
          <th scope="col">
            <AnalyserLink id={first} />
          </th>
          <th scope="col">
            <AnalyserLink id={second} />
          </th>
          <th scope="col">Second over first</th>
          <th scope="col">Ratio, relative to {gasTitle(comparison.relativeTo)}</th>
          <th scope="col">So</th>
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
    share > 0 && share < OFTEN ? (
      <span className="note">
        {' '}
        in {plain(share * 100)}
        {NBSP}% of scans
      </span>
    ) : null;
  return (
    <tr>
      <th scope="row">
        {gasTitle(gas.gas)}
        {gasSpoken(gas.gas) === gasTitle(gas.gas) ? null : <span className="note"> {gasSpoken(gas.gas)}</span>}
      </th>
      <td className="num" data-name={names[0]}>
        {shownText(gas.first, unit)}
        {seldom(gas.first.detectedShare)}
      </td>
      <td className="num" data-name={names[1]}>
        {shownText(gas.second, unit)}
        {seldom(gas.second.detectedShare)}
      </td>
      <td className="num" data-name="second over first">
        {ratioText(gas)}
      </td>
      <td className="picture flush">{picture}</td>
      <td>
        <span className="so">{sentenceIn(gas.verdict, unit)}</span>
      </td>
    </tr>
  );
}
