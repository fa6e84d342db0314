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
import { several } from '../notation/sentence.ts';
import { moment, offsetText } from '../notation/time.ts';
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
  useTitle('How well the alerts do');
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
            Alerts
            <br />
            <b>how well they do</b>
          </>
        }
      >
        <h1 className="verdict">{question.data ? performanceSentence(question.data) : 'How well do the alerts do?'}</h1>
        <p className="facts">
          {question.data ? <Span performance={question.data} /> : null}
          <span>
            <Link href="/alerts">the alerts</Link>
          </span>
          <span>
            <Link href="/rationalisation">why each kind is raised</Link>
          </span>
        </p>
      </Head>
      <Section>
        <SpanChoice address={address} change={change} areas={areas} now={now} />
      </Section>
      {question.data === undefined || question.isError ? (
        <Section className="sec">
          <Answered question={question} what="The measures" lines={8}>
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
  return (
    <span>
      {moment(Date.parse(from), zone, now)}{' '}
      {now - Date.parse(to) < RECENT_MS ? 'until now' : `– ${moment(Date.parse(to), zone, now)}`} (
      {offsetText(Date.parse(to), zone)}), {several(chambers, 'chamber')} watched
    </span>
  );
}

function Measured({ performance, nameOf }: { readonly performance: Performance; readonly nameOf: NameOf }) {
  return (
    <>
      <Section className="sec" label="Measures" margin={<HowToReadMeasures />}>
        <h2>Measures against their targets</h2>
        <MeasureTable measures={performance.measures} />
      </Section>
      <Section className="sec" label="Day by day" margin="a post per day, as high as the day had calls">
        <h2>Day by day</h2>
        <DayMarks performance={performance} />
        <Floods floods={performance.floods} />
      </Section>
      <Section className="sec" label="What calls most" margin="the ten that call most often">
        <h2>What calls most</h2>
        <TopTable performance={performance} nameOf={nameOf} />
      </Section>
      <Section
        className="sec"
        label="Priorities"
        margin={
          <>
            pale: the share that is advised
            <br />
            mark: the share that was found
          </>
        }
      >
        <h2>Priorities</h2>
        <PriorityMix priorities={performance.priorities} />
      </Section>
      <Section
        className="sec"
        label="Calls nobody could use"
        margin="each of them can be mended: a longer delay, a wider band, or a repair"
      >
        <h2>Calls nobody could use</h2>
        <NuisanceLists performance={performance} nameOf={nameOf} />
      </Section>
      <Section className="sec" label="Put aside" margin="now, whatever the span">
        <h2>Put aside</h2>
        <AsideOfAll performance={performance} nameOf={nameOf} />
      </Section>
      <Section className="sec" label="What came of them" margin="over closed alerts">
        <h2>What came of them</h2>
        <p className="say">{closedSentence(performance.closed)}</p>
      </Section>
    </>
  );
}

function HowToReadMeasures() {
  return (
    <>
      pale: up to the target
      <br />
      mark: what was found
      <br />
      arrow: far beyond it
      <br />a call: an alert that asked for a person by itself; a group that began together is one
    </>
  );
}
