import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import type { Residuals } from '../../shared/contract/measurement.ts';
import { fromPascal, type PressureUnit } from '../../shared/units.ts';
import { residualsQuestion } from '../api/measurementQuestions.ts';
import { ResidualChart } from '../charts/ResidualChart.tsx';
import { inSigma, QUIET_SIGMA, type ResidualPeak, standingOut } from '../charts/residualScale.ts';
import { useWidth } from '../charts/useWidth.ts';
import { Age } from '../frame/Age.tsx';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { Answered, isMissing } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useUnit } from '../frame/site.ts';
import { gasTitle } from '../notation/gas.ts';
import { plain, scientific } from '../notation/number.ts';
import { NBSP } from '../notation/pressure.ts';
import { listed } from '../notation/sentence.ts';
import { words as all } from '../strings/analyser.ts';
import type { AnalyserAddress } from './address.ts';

const words = all.residualsSection;

interface ResidualsSectionProps {
  readonly analyser: string;
  readonly address: AnalyserAddress;
  readonly change: (part: Partial<AnalyserAddress>) => void;
}

/** Peaks in the reader's unit, in order of mass. */
export function residualPeaks(residuals: Residuals, unit: PressureUnit): ResidualPeak[] {
  const inUnit = (value: number | null) => (value === null ? null : fromPascal(value, unit));
  return [...residuals.peaks]
    .sort((a, b) => a.mass - b.mass)
    .map(({ mass, height, explained, residual, sigma, leftOut }) => ({
      mass,
      height: inUnit(height),
      explained: inUnit(explained),
      residual: inUnit(residual),
      sigma: inUnit(sigma),
      leftOut,
    }));
}

const NAMED = 6;

/** What the picture shows, in a sentence. */
export function residualsSay(peaks: readonly ResidualPeak[]): string {
  const judged = peaks.filter((peak) => inSigma(peak) !== null && peak.leftOut === null);
  if (judged.length === 0) return words.nothingCanBeSaid;
  const out = standingOut(peaks, peaks.length);
  if (out.length === 0) return words.theGasesExplainEvery(judged.length, QUIET_SIGMA);
  const named = out.slice(0, NAMED).map((peak) => `${peak.mass} (${signedSigma(inSigma(peak) ?? 0)})`);
  const rest = out.length > NAMED ? words.andMore(out.length - NAMED) : '';
  return words.ofPeaksStandMore(
    out.length,
    judged.length,
    QUIET_SIGMA,
    rest === '' ? listed(named) : named.join(', ') + rest,
  );
}

const signedSigma = (away: number): string => `${away > 0 ? '+' : '−'}${plain(Math.abs(away))}${NBSP}σ`;

export function ResidualsSection({ analyser, address, change }: ResidualsSectionProps) {
  const question = useQuery(residualsQuestion(analyser));
  const table = address.residuals === 'table';
  const toggle = () => change({ residuals: table ? 'chart' : 'table' });
  useKeys({ x: toggle });
  return (
    <Section
      className="sec"
      margin={
        question.data ? (
          <>
            <p>
              <Age at={question.data.at} />
            </p>
            {table ? null : <Legend />}
          </>
        ) : undefined
      }
    >
      <div className="ph">
        <h2>{words.whatTheGasesLeave}</h2>
        <button type="button" aria-pressed={table} onClick={toggle}>
          {table ? words.asAPicture : words.asATable} <Key name="x" />
        </button>
      </div>
      {isMissing(question.error) ? (
        <p className="note">{(question.error as Error).message}</p>
      ) : (
        <Answered question={question} what={words.theResiduals} lines={6}>
          {(residuals) => <TheResiduals residuals={residuals} table={table} />}
        </Answered>
      )}
    </Section>
  );
}

/** Closer together, neighbouring marks could not be told apart: the figure scrolls in itself instead. */
const LEAST_PX_PER_MASS = 6;

function TheResiduals({ residuals, table }: { readonly residuals: Residuals; readonly table: boolean }) {
  const unit = useUnit();
  const [box, measured] = useWidth<HTMLDivElement>();
  const peaks = useMemo(() => residualPeaks(residuals, unit), [residuals, unit]);
  const masses = (peaks[peaks.length - 1]?.mass ?? 1) - (peaks[0]?.mass ?? 1) + 1;
  const least = masses * LEAST_PX_PER_MASS + 70;
  const says = residualsSay(peaks);
  return (
    <>
      <p className="say">{says}</p>
      {table ? (
        <ResidualTable residuals={residuals} peaks={peaks} />
      ) : (
        <div className="plotbox" ref={box} tabIndex={measured < least ? 0 : undefined}>
          <div role="img" aria-label={words.residualsMassByMass(says)}>
            <ResidualChart peaks={peaks} width={Math.max(measured, least)} unit={unit} />
          </div>
        </div>
      )}
    </>
  );
}

function Legend() {
  return (
    <ul className="lg">
      <li>
        {words.explainedByGases}
        <svg width="14" height="12" aria-hidden="true">
          <rect className="rs-block" width="14" height="12" />
        </svg>
      </li>
      <li>
        {words.found}
        <svg width="14" height="12" aria-hidden="true">
          <rect className="ev-dash" y="4.5" width="14" height="3" />
        </svg>
      </li>
      <li>
        {words.line}
        <svg width="14" height="12" aria-hidden="true">
          <path className="ev-line" d="M7 0V12" />
        </svg>
      </li>
      <li>
        {words.unexplained}
        <svg width="14" height="12" aria-hidden="true">
          <rect className="sp-un" width="14" height="12" fill="url(#unexplained)" />
        </svg>
      </li>
      <li>
        {words.leftOut}
        <svg width="14" height="12" aria-hidden="true">
          <path className="st-nm" d="M4 10L10 2" />
        </svg>
      </li>
    </ul>
  );
}

interface ResidualTableProps {
  readonly residuals: Residuals;
  readonly peaks: readonly ResidualPeak[];
}

function ResidualTable({ residuals, peaks }: ResidualTableProps) {
  const unit = useUnit();
  const parts = new Map(residuals.peaks.map((peak) => [peak.mass, peak.parts] as const));
  const write = (value: number | null) =>
    value === null ? words.notMeasured : value === 0 ? 'none' : scientific(value);
  const so = (peak: ResidualPeak): string => {
    const away = inSigma(peak);
    if (peak.leftOut !== null) return words.leftOutAgain(peak.leftOut);
    return away === null ? words.cannotTell : signedSigma(away);
  };
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls in itself and must be reachable by keyboard
    <section className="trend-table" tabIndex={0} aria-label={words.theResidualsAsA}>
      <table>
        <thead>
          <tr>
            <th scope="col">{words.mass}</th>
            <th scope="col">{words.foundAgain(unit)}</th>
            <th scope="col">{words.explained(unit)}</th>
            <th scope="col">{words.residual}</th>
            <th scope="col">{words.by}</th>
          </tr>
        </thead>
        <tbody>
          {peaks.map((peak) => (
            <tr key={peak.mass}>
              <th scope="row">{peak.mass}</th>
              <td className="num">{write(peak.height)}</td>
              <td className="num">{write(peak.explained)}</td>
              <td className="num">{so(peak)}</td>
              <td>
                {(parts.get(peak.mass) ?? [])
                  .filter(({ share }) => share > 0)
                  .map(({ gas, share }) => `${gasTitle(gas)} ${plain(share * 100)}${NBSP}%`)
                  .join(', ') || words.noGas}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
