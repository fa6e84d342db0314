import type { ReactNode } from 'react';
import type { Sisters } from '../../shared/contract/sisters.ts';
import { useUnit } from '../frame/site.ts';
import { gasSpoken } from '../notation/gas.ts';
import { pressure, reportedPressure } from '../notation/pressure.ts';
import { words } from '../strings/compare.ts';
import { useNarrow, useWindowWidth } from '../strip/useLayout.ts';
import { times } from './factor.ts';
import { GasHead } from './GasHead.tsx';
import { NobodySees } from './SisterParts.tsx';
import { SisterAxis, SisterPicture } from './SisterPicture.tsx';
import { driftRow, factorScale, levelRow } from './sisterScale.ts';
import { byStanding, isNobodys, type SisterGas, sisterSo, zText } from './sisterWords.ts';

const WIDE = 250;
const MIDDLE = 210;
const WIDE_FROM = 1380;
const NARROW_EDGES = 62;

/** Gas by gas: this chamber among its sisters, by level and by how far each has moved from its own usual. */
export function SistersTable({ answer }: { readonly answer: Sisters }) {
  const narrow = useNarrow();
  const window = useWindowWidth();
  const width = narrow ? Math.max(200, Math.min(380, window - NARROW_EDGES)) : window > WIDE_FROM ? WIDE : MIDDLE;
  const gases = byStanding(answer.gases.filter((gas) => !isNobodys(gas)));
  const nobodys = answer.gases.filter(isNobodys);
  const [levels, drifts] = [gases.map(levelRow), gases.map(driftRow)];
  const [level, drift] = [factorScale(levels), factorScale(drifts)];
  if (answer.gases.length === 0) return null;
  return (
    <>
      <table className="evtab compared sisters">
        <colgroup>
          <col className="gas" />
          <col className="here" />
          <col className="pic" />
          <col className="z" />
          <col className="pic" />
          <col className="z" />
          <col />
        </colgroup>
        <thead>
          <tr>
            <th scope="col">{words.gas}</th>
            <th scope="col">{words.here}</th>
            <th scope="col" colSpan={2}>
              {words.byLevel}
            </th>
            <th scope="col" colSpan={2}>
              {words.byDrift}
            </th>
            <th scope="col">{words.so}</th>
          </tr>
        </thead>
        <tbody>
          {gases.map((gas, k) => (
            <SisterRow
              key={gas.gas}
              gas={gas}
              level={<SisterPicture row={levels[k] as ReturnType<typeof levelRow>} scale={level} width={width} />}
              drift={<SisterPicture row={drifts[k] as ReturnType<typeof driftRow>} scale={drift} width={width} />}
            />
          ))}
        </tbody>
        <tfoot>
          <tr className="axis-row">
            <td colSpan={2} />
            <td className="picture flush">
              <SisterAxis scale={level} width={width} />
            </td>
            <td />
            <td className="picture flush">
              <SisterAxis scale={drift} width={width} />
            </td>
            <td colSpan={2} />
          </tr>
        </tfoot>
      </table>
      <NobodySees gases={nobodys} />
    </>
  );
}

interface SisterRowProps {
  readonly gas: SisterGas;
  readonly level: ReactNode;
  readonly drift: ReactNode;
}

function SisterRow({ gas, level, drift }: SisterRowProps) {
  const unit = useUnit();
  const here = { value: gas.own, low: null, high: gas.limit, detected: gas.own !== null };
  return (
    <tr>
      <GasHead gas={gas.gas} spoken={gasSpoken(gas.gas)} />
      <td className="num" data-name={words.here}>
        {reportedPressure(here, unit)}
      </td>
      <td className="picture flush">{level}</td>
      <td className="num z" data-name={words.byLevel}>
        {gas.level ? `${words.z} ${zText(gas.level.z)}` : words.cannot}
        {gas.middle === null ? null : <span className="note"> {words.middleIs(pressure(gas.middle, unit))}</span>}
      </td>
      <td className="picture flush">{drift}</td>
      <td className="num z" data-name={words.byDrift}>
        {gas.drift ? `${words.z} ${zText(gas.drift.z)}` : words.cannot}
        {gas.ownDrift === null ? null : <span className="note"> {times(gas.ownDrift)}</span>}
      </td>
      <td>
        <span className="so">{sisterSo(gas)}</span>
      </td>
    </tr>
  );
}
