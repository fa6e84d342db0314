import type { ReactNode } from 'react';
import { Link } from 'wouter';
import type { Sisters } from '../../shared/contract/sisters.ts';
import { useNow } from '../frame/clock.ts';
import { useUnit } from '../frame/site.ts';
import { ago } from '../notation/age.ts';
import { gasSpoken } from '../notation/gas.ts';
import { pressure, reportedPressure } from '../notation/pressure.ts';
import { words } from '../strings/compare.ts';
import { times } from './factor.ts';
import { GasHead } from './GasHead.tsx';
import { NobodySees, SisterKeys } from './SisterParts.tsx';
import { SisterAxis, SisterPicture } from './SisterPicture.tsx';
import { factorScale, hereRow } from './sisterScale.ts';
import { isNobodys, type SisterGas } from './sisterWords.ts';

const WIDTH = 300;

/** Too few for a middle: each sister for itself, against this chamber. Nothing is judged. */
export function FewSisters({ answer }: { readonly answer: Sisters }) {
  const now = useNow(30);
  const { sisters } = answer;
  const gases = answer.gases.filter((gas) => !isNobodys(gas));
  const nobodys = answer.gases.filter(isNobodys);
  const rows = gases.map(hereRow);
  const scale = factorScale(rows);
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls in itself and must be reachable by keyboard */}
      <section className="trend-table" aria-label={words.sisterBySister} tabIndex={0}>
        <table className="evtab each">
          <thead>
            <tr>
              <th scope="col">{words.gas}</th>
              <th scope="col">{words.here}</th>
              {sisters.map(({ id, name, at, scans }) => (
                <th key={id} scope="col">
                  <Link href={`/chambers/${encodeURIComponent(id)}`}>{name}</Link>
                  <br />
                  <span className="note">{words.ageAndScans(ago((now - Date.parse(at)) / 1000), scans)}</span>
                </th>
              ))}
              <th scope="col">{words.factorOnHere}</th>
            </tr>
          </thead>
          <tbody>
            {gases.map((gas, k) => (
              <FewRow
                key={gas.gas}
                gas={gas}
                sisters={sisters}
                picture={
                  <SisterPicture row={rows[k] as ReturnType<typeof hereRow>} scale={scale} width={WIDTH} plain />
                }
              />
            ))}
          </tbody>
          <tfoot>
            <tr>
              <td colSpan={2 + sisters.length} />
              <td>
                <SisterAxis scale={scale} width={WIDTH} />
              </td>
            </tr>
          </tfoot>
        </table>
      </section>
      <NobodySees gases={nobodys} />
    </>
  );
}

interface FewRowProps {
  readonly gas: SisterGas;
  readonly sisters: Sisters['sisters'];
  readonly picture: ReactNode;
}

function FewRow({ gas, sisters, picture }: FewRowProps) {
  const unit = useUnit();
  const here = { value: gas.own, low: null, high: gas.limit, detected: gas.own !== null };
  return (
    <tr>
      <GasHead gas={gas.gas} spoken={gasSpoken(gas.gas)} />
      <td className="num">
        {reportedPressure(here, unit)}
        <Moved drift={gas.ownDrift} />
      </td>
      {sisters.map(({ id }) => {
        const mark = gas.marks.find(({ chamber }) => chamber === id);
        return (
          <td key={id} className="num">
            {mark === undefined ? words.notLookedFor : mark.value === null ? words.notSeen : pressure(mark.value, unit)}
            <Moved drift={mark?.drift ?? null} />
          </td>
        );
      })}
      <td>{picture}</td>
    </tr>
  );
}

function Moved({ drift }: { readonly drift: number | null }) {
  return drift === null ? null : (
    <>
      <br />
      <span className="note">{words.ofOwnUsual(times(drift))}</span>
    </>
  );
}

export function HowToReadFew() {
  return (
    <>
      <ul className="lg">
        <SisterKeys />
      </ul>
      <p>{words.fewMeans}</p>
    </>
  );
}
