import { useQuery } from '@tanstack/react-query';
import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { AlertGroup } from '../../shared/contract/alerts.ts';
import type { Round, RoundArea, RoundLine } from '../../shared/contract/round.ts';
import { useAddress } from '../address/useAddress.ts';
import { groupsQuestion } from '../api/alarmQuestions.ts';
import { alertsQuestion, roundQuestion } from '../api/questions.ts';
import { useNow } from '../frame/clock.ts';
import { useKeys } from '../frame/keys.ts';
import { Answered } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useZone } from '../frame/site.ts';
import { useTitle } from '../frame/title.ts';
import { several } from '../notation/sentence.ts';
import { clockTime, longDate, moment, offsetText } from '../notation/time.ts';
import { AreaSection } from './AreaSection.tsx';
import { roundCodec } from './address.ts';
import { FirstRun } from './FirstRun.tsx';
import { shelvedByChamber, shownAreas } from './rows.ts';
import { SignBar } from './SignBar.tsx';
import { Tools } from './Tools.tsx';
import { askedFrom, togetherOf, walkWith } from './together.ts';

export function RoundPage() {
  useTitle('Round');
  const question = useQuery(roundQuestion);
  if (question.data === undefined) {
    return (
      <Section className="head" margin="Round">
        <Answered question={question} what="The round" lines={8}>
          {() => null}
        </Answered>
      </Section>
    );
  }
  const chambers = question.data.areas.flatMap((area) => area.chambers);
  if (chambers.every((line) => line.lastScanAt === null)) return <FirstRun chambers={chambers} />;
  return (
    <>
      {question.isError ? (
        <Section>
          <Answered question={question} what="The round">
            {() => null}
          </Answered>
        </Section>
      ) : null}
      <TheRound round={question.data} />
    </>
  );
}

const NO_GROUPS: readonly AlertGroup[] = [];

/** Rows move between groups when they grow stale: looked at no more often than this. */
const REGROUP_SECONDS = 10;

function TheRound({ round }: { readonly round: Round }) {
  const [filter, change] = useAddress(roundCodec);
  const now = useNow(REGROUP_SECONDS);
  const { data: putAside } = useQuery(alertsQuestion({ state: 'shelved' }));
  const shelved = useMemo(() => shelvedByChamber(putAside?.alerts ?? []), [putAside]);
  const areas = useMemo(() => shownAreas(round, filter, { nowMs: now, shelved }), [round, filter, now, shelved]);
  const groups = useQuery(groupsQuestion(askedFrom(round))).data?.groups ?? NO_GROUPS;
  const together = useMemo(() => togetherOf(areas, groups), [areas, groups]);
  const [opened, setOpened] = useState<ReadonlySet<string>>(new Set());
  const toggle = useCallback(
    (id: string) =>
      setOpened((before) => new Set(before.has(id) ? [...before].filter((one) => one !== id) : [...before, id])),
    [],
  );
  const walk = useMemo(() => walkWith(areas, together, opened), [areas, together, opened]);
  const [selected, select] = useSelection(walk);
  const isNew = useNewAlerts(round);
  return (
    <>
      <Heading round={round} />
      <Section>
        <Tools round={round} filter={filter} change={change} />
      </Section>
      {walk.length === 0 && together.length === 0 ? (
        <Section className="sec">
          <p className="say">No chamber fits what you look for.</p>
          <p className="does">
            <button type="button" onClick={() => change({ find: '', area: '', kind: '', state: '', tag: '' })}>
              Show all
            </button>
          </p>
        </Section>
      ) : null}
      {areas.map((rows, i) => (
        <AreaSection
          key={rows.area.id}
          rows={rows}
          first={i === 0}
          selected={selected}
          select={select}
          isNew={isNew}
          shelved={shelved}
          together={together}
          opened={opened}
          toggle={toggle}
        />
      ))}
      <SignBar areas={areas} />
    </>
  );
}

/** `j` and `k` walk through the rows, Enter opens. */
function useSelection(walk: readonly RoundLine[]): [string | null, (id: string) => void] {
  const [chosen, setSelected] = useState<string | null>(null);
  // Who comes at 06:00 can press a key at once: the worst row that needs a person is selected from the start.
  const first = walk[0];
  const selected = chosen ?? (first && first.health === 'attention' ? first.id : null);
  const [, go] = useLocation();
  const step = (by: number) => {
    const at = walk.findIndex((line) => line.id === selected);
    const next = walk[Math.max(0, Math.min(walk.length - 1, at === -1 || chosen === null ? 0 : at + by))];
    if (next) setSelected(next.id);
  };
  const open = selected === null ? undefined : () => go(`/chambers/${encodeURIComponent(selected)}`);
  useKeys({
    j: () => step(1),
    down: () => step(1),
    k: () => step(-1),
    up: () => step(-1),
    enter: open,
  });
  return [selected, useCallback((id: string) => setSelected(id), [])];
}

/** Alerts that were not there when the page opened: their flags are hoisted once. */
function useNewAlerts(round: Round): (line: RoundLine) => boolean {
  const atFirst = useRef<Set<string> | null>(null);
  const alerts = round.areas.flatMap((area) => area.chambers.flatMap((line) => (line.worst ? [line.worst.id] : [])));
  useEffect(() => {
    atFirst.current ??= new Set(alerts);
  });
  return useCallback(
    (line) => line.worst !== null && atFirst.current !== null && !atFirst.current.has(line.worst.id),
    [],
  );
}

const sharedShift = (areas: readonly RoundArea[]): RoundArea['shift'] => {
  const [first, ...others] = areas.map((area) => area.shift);
  const same = others.every((shift) => shift?.from === first?.from && shift?.to === first?.to);
  return same ? (first ?? null) : null;
};

function Heading({ round }: { readonly round: Round }) {
  const zone = useZone();
  const now = useNow(30);
  const shift = sharedShift(round.areas);
  const signed = round.areas
    .flatMap((area) => (area.lastSigned ? [{ ...area.lastSigned, area: area.name }] : []))
    .sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
  const last = signed[0];
  const unsigned = round.areas.length - signed.length;
  return (
    <Head
      margin={
        <>
          Round
          {shift ? (
            <>
              <br />
              <b>
                {shift.from}–{shift.to}
              </b>
              <br />
              this shift
            </>
          ) : null}
        </>
      }
    >
      <h1 className="verdict">
        <Sentence text={round.headline} />
      </h1>
      <p className="facts">
        <span>
          {longDate(now, zone)}, {clockTime(now, zone)} ({offsetText(now, zone)})
        </span>
        <span>
          {last ? (
            <>
              last round signed{' '}
              <Link href={`/rounds/${encodeURIComponent(last.id)}`}>{moment(Date.parse(last.at), zone, now)}</Link> by{' '}
              {last.by}
            </>
          ) : (
            'no round has been signed yet'
          )}
          {last && unsigned > 0 ? `; ${several(unsigned, 'area')} never signed` : ''}
        </span>
        {round.shelved.count > 0 ? (
          <span>
            <Link href="/alerts?state=shelved">{several(round.shelved.count, 'alert')} shelved</Link>
            {round.shelved.nextReturnsAt
              ? `, next returns ${moment(Date.parse(round.shelved.nextReturnsAt), zone, now)}`
              : ''}
          </span>
        ) : null}
        {last?.note ? <span>handover: {last.note}</span> : null}
      </p>
    </Head>
  );
}
