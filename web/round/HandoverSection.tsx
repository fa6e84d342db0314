import { useQuery } from '@tanstack/react-query';
import { useMemo, useState } from 'react';
import { handoverQuestion } from '../api/roundQuestions.ts';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useMay } from '../frame/site.ts';
import { words } from '../strings/handover.ts';
import { EntryForm, type Subject } from './EntryForm.tsx';
import { HandoverLists } from './HandoverLists.tsx';
import type { AreaRows } from './rows.ts';

interface HandoverSectionProps {
  /** Those that are on the page. */
  readonly areas: readonly AreaRows[];
}

/** The draft of the handover, below the areas: what is signed with the round. */
export function HandoverSection({ areas }: HandoverSectionProps) {
  const question = useQuery(handoverQuestion);
  const shown = new Set(areas.map(({ area }) => area.id));
  return (
    <Section className="sec last handing" margin={words.margin} id="handover">
      <h2>{words.handover}</h2>
      <Answered question={question} what={words.theHandover} lines={3}>
        {(draft) => <HandoverLists areas={draft.areas.filter(({ area }) => shown.has(area))} />}
      </Answered>
      <Add areas={areas} />
    </Section>
  );
}

function Add({ areas }: HandoverSectionProps) {
  const [open, setOpen] = useState(false);
  const may = useMay('operator');
  const subjects = useMemo(
    () =>
      toldApart([
        ...areas.map(({ area }): Subject => ({ name: area.name, about: { area: area.id } })),
        ...areas.flatMap(({ area }) =>
          area.chambers.map((line): Subject => ({ name: line.name, about: { chamber: line.id } })),
        ),
      ]),
    [areas],
  );
  if (!may) return <p className="note">{words.mayLook}</p>;
  if (open) return <EntryForm subjects={subjects} close={() => setOpen(false)} />;
  return (
    <p className="does">
      <button type="button" onClick={() => setOpen(true)}>
        {words.add}
      </button>
    </p>
  );
}

/** Names need not be unique: a second one of the same name says its id. */
export function toldApart(subjects: readonly Subject[]): readonly Subject[] {
  const taken = new Set<string>();
  return subjects.map((subject) => {
    const key = subject.name.toLowerCase();
    const { area, chamber } = subject.about;
    if (taken.has(key)) return { ...subject, name: `${subject.name} (${chamber ?? area})` };
    taken.add(key);
    return subject;
  });
}
