import { lazy, Suspense } from 'react';
import type { BeforeAfter } from '../../shared/contract/beforeAfter.ts';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { Skeleton } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { words } from '../strings/compareBefore.ts';
import { words as spectrumWords } from '../strings/spectrum.ts';
import type { Change, CompareAddress } from './address.ts';

/** The drawing comes with its charts when somebody wants to see it. */
const Spectra = lazy(() => import('./Spectra.tsx').then((module) => ({ default: module.Spectra })));

interface SpectraProps {
  readonly answer: BeforeAfter;
  readonly address: CompareAddress;
  readonly change: Change;
}

/** One scan of each side, drawn over each other. */
export function SpectraSection({ answer, address, change }: SpectraProps) {
  const shown = address.spectra === 'shown';
  const { before, after } = answer;
  if (before.scanAt === null || after.scanAt === null) return null;
  return (
    <Section className={shown ? 'sec last' : 'sec last unasked'}>
      <div className="ph">
        <h2>{words.spectra}</h2>
        <button type="button" aria-expanded={shown} onClick={() => change({ spectra: shown ? '' : 'shown' })}>
          {shown ? words.hideSpectra : words.showSpectra}
        </button>
        {shown ? <Scale address={address} change={change} /> : null}
      </div>
      {shown ? (
        <Suspense fallback={<Skeleton lines={6} />}>
          <Spectra
            key={[answer.alert?.id, before.analyser, after.analyser, address.beforeFrom, address.afterFrom].join()}
            answer={answer}
            scale={address.scale}
          />
        </Suspense>
      ) : null}
    </Section>
  );
}

function Scale({ address, change }: Omit<SpectraProps, 'answer'>) {
  useKeys({ l: () => change({ scale: address.scale === 'log' ? 'linear' : 'log' }) });
  return (
    <>
      <fieldset className="opt">
        <legend className="unseen">{spectrumWords.scale}</legend>
        {(['log', 'linear'] as const).map((scale) => (
          <button key={scale} type="button" aria-pressed={address.scale === scale} onClick={() => change({ scale })}>
            {spectrumWords.scales[scale]}
          </button>
        ))}
      </fieldset>
      <Key name="l" />
    </>
  );
}
