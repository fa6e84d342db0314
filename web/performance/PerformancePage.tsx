import { useQuery } from '@tanstack/react-query';
import { useEffect } from 'react';
import { Link, useLocation } from 'wouter';
import type { Performance } from '../../shared/contract/performance.ts';
import { useAddress } from '../address/useAddress.ts';
import { performanceQuestion } from '../api/alarmQuestions.ts';
import { roundQuestion } from '../api/questions.ts';
import { nowMs, useNow } from '../frame/clock.ts';
import { useKeys } from '../frame/keys.ts';
import { Answered } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { useZone } from '../frame/site.ts';
import { useTitle } from '../frame/title.ts';
import { moment, offsetText } from '../notation/time.ts';
import { words } from '../strings/performance.ts';

import { AsideOfAll, type NameOf, NuisanceLists, TopTable } from './AlertTables.tsx';
import { askedOf, performanceCodec } from './address.ts';
import { ConfusionSection } from './ConfusionSection.tsx';
import { DayMarks } from './DayMarks.tsx';
import { ExamplesSection } from './ExamplesSection.tsx';
import { MeasureTable } from './MeasureTable.tsx';
import { closedSentence, Floods, PriorityMix } from './Shares.tsx';
import { SpanChoice } from './SpanChoice.tsx';
import { performanceSentence } from './words.ts';

/** A whole number of minutes is fine enough for a page that looks back over weeks. */
const RENEW_SECONDS = 60;
/** A span that ends less than this ago ends now. */
const RECENT_MS = 180_000;

export function PerformancePage() {
  useTitle(words.howWellTheAlertsDo);
  const [address, change] = useAddress(performanceCodec);
  const [, go] = useLocation();
  const now = useNow(RENEW_SECONDS);
  const asked = askedOf(address, now);
  const question = useQuery(performanceQuestion(asked, nowMs));
  const { data: round } = useQuery(roundQuestion);
  useKeys({ escape: () => go('/alerts') });
  useEffect(() => {
    if (window.location.hash === '#examples' && question.data) {
      document.getElementById('examples')?.scrollIntoView({ block: 'start' });
    }
  }, [question.data]);
  const names = new Map(round?.areas.flatMap(({ chambers }) => chambers.map(({ id, name }) => [id, name] as const)));
  const nameOf: NameOf = (chamber) => names.get(chamber) ?? chamber;
  const areas = round?.areas.map(({ id, name }) => [id, name] as const) ?? [];
  return (
    <>
      <Head
        margin={
          <>
            {words.alerts}
            <br />
            <b>{words.howWellTheyDo}</b>
          </>
        }
      >
        <h1 className="verdict">{question.data ? performanceSentence(question.data) : words.howWellDoTheAlerts}</h1>
        <p className="facts">
          {question.data ? <Span performance={question.data} /> : null}
          <span>
            <Link href="/alerts">{words.theAlerts}</Link>
          </span>
          <span>
            <Link href="/rationalisation">{words.whyEachKindIsRaised}</Link>
          </span>
        </p>
      </Head>
      <Section>
        <SpanChoice address={address} change={change} areas={areas} now={now} />
      </Section>
      {question.data === undefined || question.isError ? (
        <Section className="sec">
          <Answered question={question} what={words.theMeasures} lines={8}>
            {() => null}
          </Answered>
        </Section>
      ) : null}
      {question.data ? <Measured performance={question.data} nameOf={nameOf} /> : null}
      <ConfusionSection asked={asked} />
      <ExamplesSection nameOf={nameOf} />
    </>
  );
}

function Span({ performance: { from, to, chambers } }: { readonly performance: Performance }) {
  const zone = useZone();
  const now = nowMs();
  const at = (instant: string) => moment(Date.parse(instant), zone, now);
  const offset = offsetText(Date.parse(to), zone);
  return (
    <span>
      {now - Date.parse(to) < RECENT_MS
        ? words.watchedUntilNow(at(from), offset, chambers)
        : words.watched(at(from), at(to), offset, chambers)}
    </span>
  );
}

function Measured({ performance, nameOf }: { readonly performance: Performance; readonly nameOf: NameOf }) {
  return (
    <>
      <Section className="sec" label={words.measures} margin={<HowToReadMeasures />}>
        <h2>{words.measuresAgainstTheirTargets}</h2>
        <MeasureTable measures={performance.measures} />
      </Section>
      <Section className="sec" label={words.dayByDay} margin={words.aPostPerDay}>
        <h2>{words.dayByDay}</h2>
        <DayMarks performance={performance} />
        <Floods floods={performance.floods} />
      </Section>
      <Section className="sec" label={words.whatCallsMost} margin={words.theTenThatCallMost}>
        <h2>{words.whatCallsMost}</h2>
        <TopTable performance={performance} nameOf={nameOf} />
      </Section>
      <Section
        className="sec"
        label={words.priorities}
        margin={
          <>
            {words.paleTheShare}
            <br />
            {words.markTheShare}
          </>
        }
      >
        <h2>{words.priorities}</h2>
        <PriorityMix priorities={performance.priorities} />
      </Section>
      <Section className="sec" label={words.callsNobodyCouldUse} margin={words.eachCanBeMended}>
        <h2>{words.callsNobodyCouldUse}</h2>
        <NuisanceLists performance={performance} nameOf={nameOf} />
      </Section>
      <Section className="sec" label={words.putAside} margin={words.nowWhateverTheSpan}>
        <h2>{words.putAside}</h2>
        <AsideOfAll performance={performance} nameOf={nameOf} />
      </Section>
      <Section className="sec" label={words.whatCame} margin={words.overClosedAlerts}>
        <h2>{words.whatCame}</h2>
        <p className="say">{closedSentence(performance.closed)}</p>
      </Section>
    </>
  );
}

function HowToReadMeasures() {
  return (
    <>
      {words.paleUpToTheTarget}
      <br />
      {words.markWhatWasFound}
      <br />
      {words.arrowFarBeyond}
      <br />
      {words.aCallAnAlert}
    </>
  );
}
