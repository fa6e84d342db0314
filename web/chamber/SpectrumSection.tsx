import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import type { Spectrum } from '../../shared/contract/readings.ts';
import { fromPascal, type PressureUnit } from '../../shared/units.ts';
import { spectrumQuestion } from '../api/questions.ts';
import { plottable } from '../charts/logAxis.ts';
import { type GasShare, sharesOf } from '../charts/peakShares.ts';
import { SpectrumChart } from '../charts/SpectrumChart.tsx';
import type { DrawnPeak } from '../charts/SpectrumLayers.tsx';
import { useWidth } from '../charts/useWidth.ts';
import { Age } from '../frame/Age.tsx';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { Answered, isMissing } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useUnit, useZone } from '../frame/site.ts';
import { gasLabel, gasTitle } from '../notation/gas.ts';
import { plain } from '../notation/number.ts';
import { several } from '../notation/sentence.ts';
import { clockTimeSeconds } from '../notation/time.ts';
import type { ChamberParts } from './parts.ts';

/** Peaks in the reader's unit; what lies under the floor is not drawn, except as what was usual. */
export function drawnPeaks(spectrum: Spectrum, unit: PressureUnit): DrawnPeak[] {
  const floor = spectrum.floor ?? 0;
  const inUnit = (pressurePa: number | null) => {
    const value = plottable(pressurePa);
    return value === null || value < floor ? null : fromPascal(value, unit);
  };
  return [...spectrum.peaks]
    .sort((a, b) => a.mass - b.mass)
    .map((peak) => ({ ...peak, height: inUnit(peak.value), shoulder: inUnit(peak.baseline) }));
}

const percent = (share: number): string => {
  const value = share * 100;
  return `${value >= 9.95 ? value.toFixed(0) : value >= 0.01 ? plain(value, 1) : '< 0.01'} %`;
};
const LEGEND_LEAST = 0.0005;
const LEGEND_MOST = 12;

const legendOf = (shares: readonly GasShare[]): readonly GasShare[] =>
  shares.filter(({ share, slot }) => share >= LEGEND_LEAST || slot === 'unexplained').slice(0, LEGEND_MOST);

/** The picture in words. */
export function spectrumSentence(spectrum: Spectrum, shares: readonly GasShare[]): string {
  const first = spectrum.peaks[0]?.mass;
  const last = spectrum.peaks[spectrum.peaks.length - 1]?.mass;
  const most = shares.slice(0, 4).map(({ name, share }) => `${gasTitle(name)} ${percent(share)}`);
  const strange = spectrum.peaks.filter((peak) => peak.unexplained > 0.5 && (peak.value ?? 0) > (spectrum.floor ?? 0));
  return (
    `Spectrum from ${first} to ${last} u, each peak divided by the gases that explain it: ${most.join(', ')}` +
    `${strange.length > 0 ? `; unexplained peaks at ${strange.map(({ mass }) => mass).join(', ')}` : ''}.`
  );
}

export function SpectrumSection({ chamber, address, change }: ChamberParts) {
  const analyser = address.analyser === '' ? null : address.analyser;
  const question = useQuery(spectrumQuestion(chamber.id, analyser));
  const shares = useMemo(() => sharesOf(question.data?.peaks ?? []), [question.data]);
  const toggle = () => change({ scale: address.scale === 'log' ? 'linear' : 'log' });
  useKeys({ l: toggle });
  return (
    <Section
      className="sec"
      margin={question.data ? <SpectrumMargin spectrum={question.data} shares={shares} /> : undefined}
    >
      <div className="ph">
        <h2>Spectrum</h2>
        <fieldset className="opt">
          <legend className="unseen">Scale</legend>
          {(['log', 'linear'] as const).map((scale) => (
            <button key={scale} type="button" aria-pressed={address.scale === scale} onClick={() => change({ scale })}>
              {scale}
            </button>
          ))}
        </fieldset>
        <Key name="l" />
        <span>
          {address.scale === 'log'
            ? 'Height is the peak on the log axis; the parts inside a peak are shares of it.'
            : 'Height is the peak; the parts inside a peak are shares of it.'}
        </span>
      </div>
      {isMissing(question.error) ? (
        <p className="note">{(question.error as Error).message}</p>
      ) : (
        <Answered question={question} what="The spectrum" lines={6}>
          {(spectrum) => <TheSpectrum spectrum={spectrum} shares={shares} scale={address.scale} />}
        </Answered>
      )}
    </Section>
  );
}

/** Closer together, neighbouring bars could not be told apart: the figure scrolls in itself instead. */
const LEAST_PX_PER_MASS = 5.5;

interface TheSpectrumProps {
  readonly spectrum: Spectrum;
  readonly shares: readonly GasShare[];
  readonly scale: 'log' | 'linear';
}

function TheSpectrum({ spectrum, shares, scale }: TheSpectrumProps) {
  const unit = useUnit();
  const [box, width] = useWidth<HTMLDivElement>();
  const peaks = useMemo(() => drawnPeaks(spectrum, unit), [spectrum, unit]);
  const floor = spectrum.floor === null ? null : fromPascal(spectrum.floor, unit);
  return (
    <>
      <div className="plotbox" ref={box} tabIndex={width < peaks.length * LEAST_PX_PER_MASS ? 0 : undefined}>
        <div role="img" aria-label={spectrumSentence(spectrum, shares)}>
          <SpectrumChart
            peaks={peaks}
            floor={floor}
            unit={unit}
            scale={scale}
            width={Math.max(width, peaks.length * LEAST_PX_PER_MASS)}
          />
        </div>
      </div>
      <ul className="lg narrow-only">
        <Legend shares={shares} />
      </ul>
    </>
  );
}

function SpectrumMargin({ spectrum, shares }: { readonly spectrum: Spectrum; readonly shares: readonly GasShare[] }) {
  const zone = useZone();
  return (
    <>
      <p>
        {clockTimeSeconds(Date.parse(spectrum.at), zone)}, <Age at={spectrum.at} />
      </p>
      <p>
        {several(spectrum.averages, 'sweep')}
        {spectrum.detector ? `, ${spectrum.detector}` : ''}
      </p>
      <ul className="lg">
        <Legend shares={shares} />
      </ul>
    </>
  );
}

function Legend({ shares }: { readonly shares: readonly GasShare[] }) {
  return (
    <>
      {legendOf(shares).map(({ name, slot, share }) => (
        <li key={name}>
          {slot === 'own' ? name : `${gasLabel(name)} ${percent(share)}`}
          <svg width="11" height="11" aria-hidden="true">
            <rect
              className={slot === 'unexplained' ? 'sp-un' : slot === 'own' ? 'g-own' : `g-${slot}`}
              fill={slot === 'unexplained' ? 'url(#unexplained)' : undefined}
              width="11"
              height="11"
            />
          </svg>
        </li>
      ))}
      <li>
        baseline
        <svg width="11" height="11" aria-hidden="true">
          <path className="sp-before" d="M1 11V1.5H10V11" />
        </svg>
      </li>
    </>
  );
}
