import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Link } from 'wouter';
import type { SignatureExample } from '../../shared/contract/rehearsal.ts';
import { Refused, Sending } from '../alerts/AcknowledgeForm.tsx';
import { useMove } from '../alerts/useMove.ts';
import { withdrawExample } from '../api/alarmMoves.ts';
import { examplesQuestion } from '../api/alarmQuestions.ts';
import { nowMs } from '../frame/clock.ts';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useMay, useZone } from '../frame/site.ts';
import { gasTitle } from '../notation/gas.ts';
import { listed } from '../notation/sentence.ts';
import { moment } from '../notation/time.ts';
import { causeTitle, SIGNATURE_TITLE } from '../notation/words.ts';
import type { NameOf } from './AlertTables.tsx';

/** Closed cases that teach the watch: each with what it would be called without itself. */
export function ExamplesSection({ nameOf }: { readonly nameOf: NameOf }) {
  const question = useQuery(examplesQuestion);
  return (
    <Section
      className="sec last"
      label="Examples"
      margin={
        <>closed cases that help to name the next one; each is checked: what would the watch call it without itself?</>
      }
    >
      <h2 id="examples">Examples</h2>
      <Answered question={question} what="The examples" lines={3}>
        {({ examples }) =>
          examples.length === 0 ? (
            <p className="note">
              None is kept yet. When an alert is closed with what was found, its page offers an engineer to keep it as
              an example.
            </p>
          ) : (
            <ol className="history">
              {[...examples].sort(byUse).map((example) => (
                <ExampleLine key={example.id} example={example} nameOf={nameOf} />
              ))}
            </ol>
          )
        }
      </Answered>
    </Section>
  );
}

const byUse = (a: SignatureExample, b: SignatureExample): number =>
  Number(a.withdrawnAt !== null) - Number(b.withdrawnAt !== null) || Date.parse(b.setAt) - Date.parse(a.setAt);

/** What the check says, as a sentence. */
export function checkSentence({ check, verified }: Pick<SignatureExample, 'check' | 'verified'>): string {
  if (check === null) return 'Not checked yet.';
  if (check.named === null) return 'Without it, the watch would give this case no name: it teaches something new.';
  const named = `Without it, the watch would call this “${SIGNATURE_TITLE[check.named].toLowerCase()}” (${check.sureness})`;
  return check.right
    ? `${named}: it agrees with what was known.`
    : `${named}, not “${SIGNATURE_TITLE[verified].toLowerCase()}”: look whether the finding is certain.`;
}

function ExampleLine({ example, nameOf }: { readonly example: SignatureExample; readonly nameOf: NameOf }) {
  const zone = useZone();
  const engineer = useMay('engineer');
  const [sure, setSure] = useState(false);
  const move = useMove(() => setSure(false));
  const at = (instant: string) => moment(Date.parse(instant), zone, nowMs());
  const { withdrawnAt } = example;
  return (
    <li className={withdrawnAt === null ? undefined : 'gone'}>
      <div className="when">
        <b>{withdrawnAt === null ? 'in use' : 'withdrawn'}</b>
        <span className="note">
          {example.chamberKind === null ? 'for its own chamber' : `for the kind ${example.chamberKind}`}
        </span>
      </div>
      <div>
        <p>
          <b>{causeTitle(example.verified)}</b>{' '}
          {example.claimed === example.verified ? '' : `claimed as ${causeTitle(example.claimed).toLowerCase()}, `}
          <Link href={`/alerts/${encodeURIComponent(example.alert)}`}>the alert</Link> on {nameOf(example.chamber)}
          {example.gases.length > 0 ? `, ${listed(example.gases.map(gasTitle))}` : ''}
        </p>
        <p className="so-say">{checkSentence(example)}</p>
        <p className="note">
          {example.setBy}, {at(example.setAt)}
          {example.note ? `: “${example.note}”` : ''}
          {withdrawnAt === null ? '' : ` · withdrawn by ${example.withdrawnBy ?? 'somebody'}, ${at(withdrawnAt)}`}
        </p>
        {sure ? (
          <div className="does">
            <button type="button" disabled={move.busy} onClick={() => move.run(() => withdrawExample(example.id))}>
              {move.busy ? <Sending word="Withdrawing…" /> : 'Withdraw it'}
            </button>
            <button type="button" onClick={() => setSure(false)}>
              Keep it
            </button>
          </div>
        ) : null}
        <Refused text={move.refused} />
      </div>
      {engineer && withdrawnAt === null && !sure ? (
        <button type="button" onClick={() => setSure(true)}>
          Withdraw… <span className="unseen">{causeTitle(example.verified)}</span>
        </button>
      ) : null}
    </li>
  );
}
