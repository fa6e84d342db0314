import { useQuery } from '@tanstack/react-query';
import { useCallback, useMemo } from 'react';
import type { AlertGroup } from '../../shared/contract/alerts.ts';
import type { Round } from '../../shared/contract/round.ts';
import { useAddress } from '../address/useAddress.ts';
import { groupsQuestion } from '../api/alarmQuestions.ts';
import { alertsQuestion, roundQuestion } from '../api/questions.ts';
import { useNow } from '../frame/clock.ts';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useTitle } from '../frame/title.ts';
import { words } from '../strings/round.ts';
import { AreaSection } from './AreaSection.tsx';
import { EVERYTHING, roundCodec, toggled } from './address.ts';
import { FirstRun } from './FirstRun.tsx';
import { HandoverSection } from './HandoverSection.tsx';
import { Heading } from './Heading.tsx';
import { PaperFoot } from './Paper.tsx';
import { type AreaRows, shelvedByChamber, shownAreas } from './rows.ts';
import { SignBar } from './SignBar.tsx';
import { useNewAlerts, useSelection } from './selection.ts';
import { TakeOver } from './TakeOver.tsx';
import { Tools } from './Tools.tsx';
import { askedFrom, type Together, togetherOf, walkWith } from './together.ts';
import { AgePace } from './useAgeStep.ts';

export function RoundPage() {
  useTitle(words.title);
  const question = useQuery(roundQuestion);
  if (question.data === undefined) {
    return (
      <Section className="head" margin={words.title}>
        <Answered question={question} what={words.theRound} lines={8} page>
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
          <Answered question={question} what={words.theRound}>
            {() => null}
          </Answered>
        </Section>
      ) : null}
      <TheRound round={question.data} />
    </>
  );
}

/** A step of the selection concerns only the area that it leaves and the one that it enters. */
const holds = (rows: AreaRows, together: readonly Together[], id: string): boolean =>
  [rows.need, rows.hand, rows.blind, rows.changed, rows.rest].some((lines) => lines.some((line) => line.id === id)) ||
  together.some(({ area, lines }) => area === rows.area.id && lines.some((line) => line.id === id));

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
  const { open } = filter;
  const opened = useMemo(() => new Set(open), [open]);
  const toggle = useCallback((group: string) => change({ open: toggled(open, group) }), [change, open]);
  const walk = useMemo(() => walkWith(areas, together, opened), [areas, together, opened]);
  const [selected, select] = useSelection(walk);
  const isNew = useNewAlerts(round);
  return (
    <>
      <AgePace />
      <Heading round={round} />
      <TakeOver areas={areas} />
      <Section>
        <Tools round={round} filter={filter} change={change} />
      </Section>
      {walk.length === 0 && together.length === 0 ? (
        <Section className="sec">
          <p className="say">{words.nothingFits}</p>
          <p className="does">
            <button type="button" onClick={() => change(EVERYTHING)}>
              {words.showAll}
            </button>
          </p>
        </Section>
      ) : null}
      {areas.map((rows, i) => (
        <AreaSection
          key={rows.area.id}
          rows={rows}
          first={i === 0}
          selected={selected !== null && holds(rows, together, selected) ? selected : null}
          select={select}
          isNew={isNew}
          shelved={shelved}
          together={together}
          opened={opened}
          toggle={toggle}
        />
      ))}
      <HandoverSection areas={areas} />
      <PaperFoot catalogue={round.catalogue} />
      <SignBar areas={areas} />
    </>
  );
}
