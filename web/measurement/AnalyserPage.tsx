import { useQuery } from '@tanstack/react-query';
import { useLocation } from 'wouter';
import type { CalibrationEntry } from '../../shared/contract/calibration.ts';
import type { AnalyserMeasurement } from '../../shared/contract/measurement.ts';
import { useAddress } from '../address/useAddress.ts';
import { calibrationsQuestion, measurementQuestion, measurementTrendQuestion } from '../api/measurementQuestions.ts';
import { roundQuestion } from '../api/questions.ts';
import { askedSpan, spanOf } from '../chamber/span.ts';
import { nowMs, useNow } from '../frame/clock.ts';
import { useKeys } from '../frame/keys.ts';
import { Answered, isMissing, NotFound } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useTitle } from '../frame/title.ts';
import { duration } from '../notation/age.ts';
import { words as all } from '../strings/analyser.ts';
import { useNarrow } from '../strip/useLayout.ts';
import { AnalyserHead } from './AnalyserHead.tsx';
import { analyserCodec } from './address.ts';
import { CalibrationSection } from './CalibrationSection.tsx';
import { FindingsSection } from './FindingsSection.tsx';
import { FloorsSection } from './FloorsSection.tsx';
import { PlanSection } from './PlanSection.tsx';
import { QuantitySection } from './QuantitySection.tsx';
import { ResidualsSection } from './ResidualsSection.tsx';

const words = all.analyserPage;

/** Buckets asked for: about one for each pixel of a wide chart. */
const POINTS = 600;
const POINTS_NARROW = 250;
const NO_ENTRIES: readonly CalibrationEntry[] = [];

export function AnalyserPage({ id }: { readonly id: string }) {
  const question = useQuery(measurementQuestion(id));
  const [, go] = useLocation();
  useTitle(words.measurement(id));
  useKeys({ escape: () => go('/measurement') });
  if (question.data === undefined && isMissing(question.error)) {
    return <NotFound sentence={words.thereIsNoAnalyser(id)} />;
  }
  return (
    <>
      {question.data === undefined || question.isError ? (
        <Section className="head" margin={words.measurementAgain}>
          {question.data === undefined ? <h1 className="verdict">{id}</h1> : null}
          <Answered question={question} what={words.theMeasurement} lines={8}>
            {() => null}
          </Answered>
        </Section>
      ) : null}
      {question.data ? <TheAnalyser measured={question.data} /> : null}
    </>
  );
}

function TheAnalyser({ measured }: { readonly measured: AnalyserMeasurement }) {
  const [address, change] = useAddress(analyserCodec);
  const narrow = useNarrow();
  const now = useNow(15);
  const span = spanOf(address, now);
  const trend = useQuery(
    measurementTrendQuestion(
      {
        analyser: measured.analyser,
        span: askedSpan(address, now),
        points: narrow ? POINTS_NARROW : POINTS,
      },
      nowMs,
    ),
  );
  const calibrations = useQuery(calibrationsQuestion(measured.analyser));
  const { data: round } = useQuery(roundQuestion);
  const area = round?.areas.find(({ id }) => id === measured.area);
  const line = area?.chambers.find(({ id }) => id === measured.chamber);
  const others = line?.analysers.filter((other) => other !== measured.analyser) ?? [];
  const seen = measured.at !== null;
  return (
    <>
      <AnalyserHead measured={measured} areaName={area?.name ?? measured.area} others={others} />
      {seen ? (
        <>
          <FindingsSection measured={measured} trend={trend.data} spanText={duration((span.to - span.from) / 1000)} />
          <QuantitySection
            question={trend}
            entries={calibrations.data?.entries ?? NO_ENTRIES}
            span={span}
            address={address}
            change={change}
          />
          <FloorsSection measured={measured} />
          <ResidualsSection analyser={measured.analyser} address={address} change={change} />
          <PlanSection measured={measured} address={address} change={change} />
        </>
      ) : (
        <Section className="sec">
          <p className="say">{words.withTheFirstScan}</p>
          <p className="note">{words.aCalibrationCanBe}</p>
        </Section>
      )}
      <CalibrationSection measured={measured} question={calibrations} others={others} />
    </>
  );
}
