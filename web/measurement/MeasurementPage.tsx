import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { MeasurementLine, MeasurementList } from '../../shared/contract/measurement.ts';
import { useAddress } from '../address/useAddress.ts';
import { measurementListQuestion } from '../api/measurementQuestions.ts';
import { roundQuestion } from '../api/questions.ts';
import { useNow } from '../frame/clock.ts';
import { useKeys } from '../frame/keys.ts';
import { Answered } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { ShowMore } from '../frame/ShowMore.tsx';
import { useTitle } from '../frame/title.ts';
import { isOld } from '../notation/age.ts';
import { several } from '../notation/sentence.ts';
import { words as all } from '../strings/measurementList.ts';
import { Rich } from '../strings/Rich.tsx';
import { AnalyserRows, type Periods, pathOf } from './AnalyserRows.tsx';
import { measurementCodec } from './address.ts';
import { DetectionMultiple } from './DetectionMultiple.tsx';
import { ListFilters } from './ListFilters.tsx';
import { byArea, listSentence, needsLook, wanted } from './lines.ts';

const words = all.measurementPage;

export function MeasurementPage() {
  useTitle(words.measurement);
  const [address, change] = useAddress(measurementCodec);
  const [, go] = useLocation();
  const question = useQuery(measurementListQuestion);
  const { data: round } = useQuery(roundQuestion);
  useKeys({ escape: () => go('/') });
  const names = new Map(round?.areas.map(({ id, name }) => [id, name] as const) ?? []);
  const periods: Periods = new Map(
    round?.areas.flatMap(({ chambers }) => chambers.map((line) => [line.id, line.scanPeriodSeconds] as const)) ?? [],
  );
  const now = useNow(15);
  const isStale = ({ at, chamber }: MeasurementLine) =>
    at !== null && isOld((now - Date.parse(at)) / 1000, periods.get(chamber) ?? null);
  const list = question.data;
  const shown = list ? wanted(list.analysers, address) : [];
  const areas = list ? byArea(list.analysers, [...names.keys()]).map(({ area }) => area) : [];
  return (
    <>
      <Head margin={<Rich text={words.measurementHowFarEach} parts={{ br: () => <br /> }} />}>
        <h1 className="verdict">{list ? listSentence(list.analysers, isStale) : words.howFarCanThe}</h1>
      </Head>
      {list && list.analysers.length > 0 ? (
        <Section>
          <ListFilters address={address} change={change} areas={areas} nameOf={(area) => names.get(area) ?? area} />
        </Section>
      ) : null}
      {list === undefined || question.isError ? (
        <Section className="sec">
          <Answered question={question} what={words.theAnalysers} lines={8}>
            {() => null}
          </Answered>
        </Section>
      ) : null}
      {list ? <Groups list={list} shown={shown} names={names} order={areas} periods={periods} /> : null}
      {list && list.analysers.length > 0 ? (
        <Section className="sec last" margin={words.holdsForEveryFloor}>
          <h2>{words.howAFloorIs}</h2>
          <DetectionMultiple multiple={list.detectionMultiple} />
        </Section>
      ) : null}
    </>
  );
}

/** Beyond this many lines the page shows a part and says so. */
const SHOWN_AT_FIRST = 200;

interface GroupsProps {
  readonly list: MeasurementList;
  readonly shown: MeasurementList['analysers'];
  readonly names: ReadonlyMap<string, string>;
  readonly order: readonly string[];
  readonly periods: Periods;
}

function Groups({ list, shown, names, order, periods }: GroupsProps) {
  const [at, setAt] = useState(-1);
  const [, go] = useLocation();
  const [most, setMost] = useState(SHOWN_AT_FIRST);
  const all = byArea(shown, order)
    .flatMap(({ lines }) => lines)
    .slice(0, most);
  const groups = byArea(all, order);
  const selected = all[at];
  const step = (by: number) => setAt(Math.max(0, Math.min(all.length - 1, at + by)));
  useKeys({
    j: () => step(1),
    down: () => step(1),
    k: () => step(-1),
    up: () => step(-1),
    enter: selected ? () => go(pathOf(selected)) : undefined,
  });
  if (list.analysers.length === 0) {
    return (
      <Section className="sec last">
        <p className="say">{words.onceAnalysersAreIn}</p>
        <p className="does">
          <Link className="btn" href="/fleet">
            {words.goToTheFleet}
          </Link>
        </p>
      </Section>
    );
  }
  if (shown.length === 0) {
    return (
      <Section className="sec">
        <p className="say">{words.noAnalyserFitsWhat}</p>
        <p className="note">{words.takeAWordOut}</p>
      </Section>
    );
  }
  return (
    <>
      {groups.map(({ area, lines }) => {
        const bad = lines.filter(needsLook).length;
        return (
          <Section
            key={area}
            className="sec"
            label={names.get(area) ?? area}
            margin={
              <>
                <p>{several(lines.length, 'analyser')}</p>
                <p>{bad === 0 ? words.noneWithARemark : words.withARemarkFirst(bad)}</p>
              </>
            }
          >
            <h2>{names.get(area) ?? area}</h2>
            <AnalyserRows
              lines={lines}
              multiple={list.detectionMultiple}
              periods={periods}
              selected={selected?.analyser ?? null}
            />
          </Section>
        );
      })}
      <ShowMore shown={all.length} all={shown.length} more={() => setMost(most + SHOWN_AT_FIRST)} />
    </>
  );
}
