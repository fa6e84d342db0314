import type { Spectrum } from '../../shared/contract/readings.ts';
import type { GasShare } from '../charts/peakShares.ts';
import { Age } from '../frame/Age.tsx';
import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { gasLabel } from '../notation/gas.ts';
import { clockTimeSeconds, moment } from '../notation/time.ts';
import { words } from '../strings/spectrum.ts';
import { type Behind, percent } from './spectrumWords.ts';

const LEGEND_LEAST = 0.0005;
const LEGEND_MOST = 12;

const legendOf = (shares: readonly GasShare[]): readonly GasShare[] =>
  shares.filter(({ share, slot }) => share >= LEGEND_LEAST || slot === 'unexplained').slice(0, LEGEND_MOST);

interface SpectrumMarginProps {
  readonly spectrum: Spectrum;
  readonly shares: readonly GasShare[];
  readonly behind: Behind;
}

/** Seconds only tell apart the scans of today. */
const timeOf = (at: number, zone: string, now: number): string => {
  const clock = moment(at, zone, now);
  return clock.includes(' ') ? clock : clockTimeSeconds(at, zone);
};

export function SpectrumMargin({ spectrum, shares, behind }: SpectrumMarginProps) {
  const zone = useZone();
  return (
    <>
      <p>
        {timeOf(Date.parse(spectrum.at), zone, nowMs())}, <Age at={spectrum.at} />
      </p>
      <p>
        {words.sweeps(spectrum.averages)}
        {spectrum.detector ? `, ${spectrum.detector}` : ''}
      </p>
      {spectrum.again ? <p>{words.again(spectrum.again.calibrationVersion, spectrum.again.catalogueVersion)}</p> : null}
      <ul className="lg">
        <SpectrumLegend shares={shares} behind={behind} />
      </ul>
    </>
  );
}

export function SpectrumLegend({ shares, behind }: Omit<SpectrumMarginProps, 'spectrum'>) {
  const zone = useZone();
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
      {behind.kind === 'none' ? null : (
        <li>
          {behind.kind === 'usual' || behind.spectrum === null
            ? words.usualLegend
            : words.earlierLegend(moment(Date.parse(behind.spectrum.at), zone, nowMs()))}
          <svg width="11" height="11" aria-hidden="true">
            <path className="sp-before" d="M1 11V1.5H10V11" />
          </svg>
        </li>
      )}
    </>
  );
}
