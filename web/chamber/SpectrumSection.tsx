import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import type { Spectrum, StoredScan } from '../../shared/contract/readings.ts';
import { fromPascal } from '../../shared/units.ts';
import { scanQuestion, spectrumQuestion } from '../api/questions.ts';
import { ProfileChart } from '../charts/ProfileChart.tsx';
import { type GasShare, sharesOf } from '../charts/peakShares.ts';
import { isProfile } from '../charts/profile.ts';
import { SpectrumChart } from '../charts/SpectrumChart.tsx';
import { useWidth } from '../charts/useWidth.ts';
import { nowMs } from '../frame/clock.ts';
import { Answered, isMissing } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useUnit, useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { words } from '../strings/spectrum.ts';
import { NO_GHOST, USUAL } from './address.ts';
import type { ChamberParts } from './parts.ts';
import { SpectrumControls } from './SpectrumControls.tsx';
import { SpectrumLegend, SpectrumMargin } from './SpectrumMargin.tsx';
import { SpectrumTable } from './SpectrumTable.tsx';
import { type Behind, drawnPeaks, profileSentence, spectrumSentence } from './spectrumWords.ts';

/** What was answered, once it is a spectrum and no promise of one. */
const arrived = (answer: Spectrum | { state: 'waiting' } | undefined): Spectrum | null =>
  answer && 'peaks' in answer ? answer : null;

/** What stands behind: an earlier scan is asked for like the scan itself. */
function useBehind({ chamber, address }: ChamberParts, analyser: string | null) {
  const time = address.ghost === USUAL || address.ghost === NO_GHOST ? '' : address.ghost;
  const spectrum = useQuery({ ...spectrumQuestion(chamber.id, analyser, time), enabled: time !== '' });
  const scan = useQuery({
    ...scanQuestion(chamber.id, analyser, time),
    enabled: time !== '' && address.peaks === 'profile',
  });
  const earlier = arrived(spectrum.data);
  const behind = useMemo<Behind>(
    () => (time === '' ? { kind: address.ghost === NO_GHOST ? 'none' : 'usual' } : { kind: 'scan', spectrum: earlier }),
    [time, address.ghost, earlier],
  );
  return { behind, profile: time === '' ? null : (scan.data ?? null) };
}

export function SpectrumSection(props: ChamberParts) {
  const { chamber, address, change } = props;
  const analyser = address.analyser === '' ? null : address.analyser;
  const question = useQuery(spectrumQuestion(chamber.id, analyser, address.scan));
  const scan = useQuery(scanQuestion(chamber.id, analyser, address.scan));
  const { behind, profile } = useBehind(props, analyser);
  const spectrum = arrived(question.data);
  const shares = useMemo(() => sharesOf(spectrum?.peaks ?? []), [spectrum]);
  const hasProfile = scan.data !== undefined && isProfile(scan.data.masses);
  const asProfile = address.peaks === 'profile' && hasProfile;
  return (
    <Section
      className="sec"
      margin={spectrum ? <SpectrumMargin spectrum={spectrum} shares={shares} behind={behind} /> : undefined}
    >
      <div className="ph">
        <h2>{words.title}</h2>
        <SpectrumControls address={address} change={change} scan={scan.data ?? null} hasProfile={hasProfile} />
        <span>{asProfile ? words.howProfile : address.scale === 'log' ? words.howLog : words.howLinear}</span>
        {address.peaks === 'profile' && scan.data && !hasProfile ? <span>{words.noProfile}</span> : null}
      </div>
      {asProfile && scan.data ? (
        <TheProfile scan={scan.data} ghost={profile} scale={address.scale} />
      ) : isMissing(question.error) ? (
        <p className="note">{(question.error as Error).message}</p>
      ) : (
        <Answered question={question} what={words.what} lines={6}>
          {(answer) =>
            'peaks' in answer ? (
              <TheSpectrum spectrum={answer} shares={shares} scale={address.scale} behind={behind} />
            ) : (
              <WorkingOut at={answer.at} />
            )
          }
        </Answered>
      )}
    </Section>
  );
}

function WorkingOut({ at }: { readonly at: string }) {
  const zone = useZone();
  return (
    <div className="plotbox">
      <p className="note" role="status">
        {words.workingOut(moment(Date.parse(at), zone, nowMs()))}
      </p>
    </div>
  );
}

/** Closer together, neighbouring bars could not be told apart: the figure scrolls in itself instead. */
export const LEAST_PX_PER_MASS = 5.5;

interface TheSpectrumProps {
  readonly spectrum: Spectrum;
  readonly shares: readonly GasShare[];
  readonly scale: 'log' | 'linear';
  readonly behind: Behind;
}

function TheSpectrum({ spectrum, shares, scale, behind }: TheSpectrumProps) {
  const unit = useUnit();
  const [box, width] = useWidth<HTMLDivElement>();
  const peaks = useMemo(() => drawnPeaks(spectrum, unit, behind), [spectrum, unit, behind]);
  const floor = spectrum.floor === null ? null : fromPascal(spectrum.floor, unit);
  const least = peaks.length * LEAST_PX_PER_MASS;
  return (
    <>
      <div className="plotbox" ref={box} tabIndex={width < least ? 0 : undefined}>
        <div role="img" aria-label={spectrumSentence(spectrum, shares)}>
          <SpectrumChart peaks={peaks} floor={floor} unit={unit} scale={scale} width={Math.max(width, least)} />
        </div>
      </div>
      <ul className="lg narrow-only">
        <SpectrumLegend shares={shares} behind={behind} />
      </ul>
      <SpectrumTable spectrum={spectrum} unit={unit} />
    </>
  );
}

interface TheProfileProps {
  readonly scan: StoredScan;
  readonly ghost: StoredScan | null;
  readonly scale: 'log' | 'linear';
}

function TheProfile({ scan, ghost, scale }: TheProfileProps) {
  const [box, width] = useWidth<HTMLDivElement>();
  const masses = (scan.masses[scan.masses.length - 1] ?? 0) - (scan.masses[0] ?? 0);
  const least = masses * LEAST_PX_PER_MASS;
  // Another unit is another quantity: it would be drawn on the wrong axis.
  const comparable = ghost !== null && ghost.unit === scan.unit ? ghost : null;
  return (
    <div className="plotbox" ref={box} tabIndex={width < least ? 0 : undefined}>
      <div role="img" aria-label={profileSentence(scan, scan.unit)}>
        <ProfileChart profile={scan} ghost={comparable} unit={scan.unit} scale={scale} width={Math.max(width, least)} />
      </div>
    </div>
  );
}
