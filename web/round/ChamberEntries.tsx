import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { entriesQuestion } from '../api/roundQuestions.ts';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useMay } from '../frame/site.ts';
import { words } from '../strings/handover.ts';
import { EntryForm } from './EntryForm.tsx';
import { EntryItem } from './EntryItem.tsx';

/** What is handed over of one chamber, on its own page: read, written and closed there. */
export function ChamberEntries({ chamber }: { readonly chamber: string }) {
  const question = useQuery(entriesQuestion(chamber));
  const [writing, setWriting] = useState(false);
  const may = useMay('operator');
  return (
    <Section className="sec handing" margin={words.chamberMargin}>
      <h2>{words.handover}</h2>
      <Answered question={question} what={words.theHandover}>
        {({ entries }) => {
          const open = entries.filter(({ doneAt }) => doneAt === null);
          const closed = entries.filter(({ doneAt }) => doneAt !== null);
          return (
            <>
              {open.length === 0 ? <p className="note">{words.chamberNone}</p> : null}
              <ul>
                {open.map((entry) => (
                  <EntryItem key={entry.id} entry={entry} here mayClose={may} />
                ))}
              </ul>
              {closed.length > 0 ? (
                <details>
                  <summary>{words.earlier(closed.length)}</summary>
                  <ul>
                    {closed.map((entry) => (
                      <EntryItem key={entry.id} entry={entry} here mayClose={false} />
                    ))}
                  </ul>
                </details>
              ) : null}
            </>
          );
        }}
      </Answered>
      {writing ? (
        <EntryForm subjects={[{ name: chamber, about: { chamber } }]} close={() => setWriting(false)} />
      ) : null}
      {may && !writing ? (
        <p className="does">
          <button type="button" onClick={() => setWriting(true)}>
            {words.addHere}
          </button>
        </p>
      ) : null}
    </Section>
  );
}
