import { useQuery } from '@tanstack/react-query';
import { useMemo, useState } from 'react';
import type { BeforeAfter } from '../../shared/contract/beforeAfter.ts';
import type { Spectrum, SpectrumWaiting } from '../../shared/contract/readings.ts';
import { fromPascal } from '../../shared/units.ts';
import { spectrumQuestion } from '../api/questions.ts';
import { SpectrumLegend } from '../chamber/SpectrumMargin.tsx';
import { LEAST_PX_PER_MASS } from '../chamber/SpectrumSection.tsx';
import { drawnPeaks, spectrumSentence } from '../chamber/spectrumWords.ts';
import { sharesOf } from '../charts/peakShares.ts';
import { SpectrumChart } from '../charts/SpectrumChart.tsx';
import { useWidth } from '../charts/useWidth.ts';
import { useNow } from '../frame/clock.ts';
import { Answered } from '../frame/PageState.tsx';
import { useUnit, useZone } from '../frame/site.ts';
import { moment } from '../notation/time.ts';
import { words } from '../strings/compareBefore.ts';
import { words as spectrumWords } from '../strings/spectrum.ts';
import { SpectraTable } from './SpectraTable.tsx';

interface SpectraProps {
  readonly answer: BeforeAfter;
  readonly scale: 'log' | 'linear';
}

const isSpectrum = (answer: Spectrum | SpectrumWaiting): answer is Spectrum => 'peaks' in answer;

/** Asks for the peaks of both scans. */
export function Spectra({ answer, scale }: SpectraProps) {
  const zone = useZone();
  const now = useNow(60);
  // The comparison goes on with the clock; the two scans stay, or each minute another one would be worked out.
  const [{ before, after }] = useState({ before: answer.before, after: answer.after });
  const earlier = useQuery(spectrumQuestion(answer.chamber, before.analyser, before.scanAt ?? ''));
  const later = useQuery(spectrumQuestion(answer.chamber, after.analyser, after.scanAt ?? ''));
  const at = (time: string) => moment(Date.parse(time), zone, now);
  return (
    <Answered question={later} what={words.theSpectra} lines={6}>
      {(second) => (
        <Answered question={earlier} what={words.theSpectra} lines={6}>
          {(first) =>
            isSpectrum(first) && isSpectrum(second) ? (
              <Drawn before={first} after={second} scale={scale} at={at} />
            ) : (
              <div className="plotbox">
                {[...new Set([first, second].filter((one) => !isSpectrum(one)).map((one) => one.at))].map((time) => (
                  <p key={time} className="note" role="status">
                    {spectrumWords.workingOut(at(time))}
                  </p>
                ))}
              </div>
            )
          }
        </Answered>
      )}
    </Answered>
  );
}

interface DrawnProps {
  readonly before: Spectrum;
  readonly after: Spectrum;
  readonly scale: 'log' | 'linear';
  readonly at: (time: string) => string;
}

function Drawn({ before, after, scale, at }: DrawnProps) {
  const unit = useUnit();
  const [box, width] = useWidth<HTMLDivElement>();
  const behind = useMemo(() => ({ kind: 'scan' as const, spectrum: before }), [before]);
  const peaks = useMemo(() => drawnPeaks(after, unit, behind), [after, unit, behind]);
  const shares = useMemo(() => sharesOf(after.peaks), [after]);
  const floor = after.floor === null ? null : fromPascal(after.floor, unit);
  const least = peaks.length * LEAST_PX_PER_MASS;
  return (
    <>
      <p className="note how spectra-are">
        {words.spectraAre(at(before.at), at(after.at))}{' '}
        {scale === 'log' ? spectrumWords.howLog : spectrumWords.howLinear}
      </p>
      <div className="plotbox" ref={box} tabIndex={width < least ? 0 : undefined}>
        <div role="img" aria-label={words.spectraSay(spectrumSentence(after, shares), at(before.at))}>
          <SpectrumChart peaks={peaks} floor={floor} unit={unit} scale={scale} width={Math.max(width, least)} />
        </div>
      </div>
      <ul className="lg spectra-legend">
        <SpectrumLegend shares={shares} behind={behind} />
      </ul>
      <SpectraTable before={before} after={after} />
      {[before, after].map((one) =>
        one.again ? (
          <p key={one.at} className="note">
            {words.spectraAgain(at(one.at), one.again.calibrationVersion, one.again.catalogueVersion)}
          </p>
        ) : null,
      )}
    </>
  );
}
