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
import { words } from '../strings/performance.ts';

import { Rich } from '../strings/Rich.tsx';
import type { NameOf } from './AlertTables.tsx';

/** Closed cases that teach the watch: each with what it would be called without itself. */
export function ExamplesSection({ nameOf }: { readonly nameOf: NameOf }) {
  const question = useQuery(examplesQuestion);
  return (
    <Section className="sec last" label={words.examples} margin={words.closedCasesThatHelp}>
      <h2 id="examples">{words.examples}</h2>
      <Answered question={question} what={words.theExamples} lines={3}>
        {({ examples }) =>
          examples.length === 0 ? (
            <p className="note">{words.noneIsKeptYet}</p>
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
  if (check === null) return words.notCheckedYet;
  if (check.named === null) return words.newToTheWatch;
  const named = SIGNATURE_TITLE[check.named].toLowerCase();
  return check.right
    ? words.itAgrees(named, check.sureness)
    : words.itDisagrees(named, check.sureness, SIGNATURE_TITLE[verified].toLowerCase());
}

function ExampleLine({ example, nameOf }: { readonly example: SignatureExample; readonly nameOf: NameOf }) {
  const zone = useZone();
  const engineer = useMay('engineer');
  const [sure, setSure] = useState(false);
  const move = useMove(() => setSure(false));
  const at = (instant: string) => moment(Date.parse(instant), zone, nowMs());
  const { withdrawnAt } = example;
  const gases = example.gases.length > 0 ? `, ${listed(example.gases.map(gasTitle))}` : '';
  return (
    <li className={withdrawnAt === null ? undefined : 'gone'}>
      <div className="when">
        <b>{withdrawnAt === null ? words.inUse : words.withdrawn}</b>
        <span className="note">
          {example.chamberKind === null ? words.forItsOwnChamber : words.forTheKind(example.chamberKind)}
        </span>
      </div>
      <div>
        <p>
          <Rich
            text={
              example.claimed === example.verified
                ? words.example(nameOf(example.chamber), gases)
                : words.exampleClaimed(causeTitle(example.claimed).toLowerCase(), nameOf(example.chamber), gases)
            }
            parts={{
              cause: () => <b>{causeTitle(example.verified)}</b>,
              link: (inner) => <Link href={`/alerts/${encodeURIComponent(example.alert)}`}>{inner}</Link>,
            }}
          />
        </p>
        <p className="so-say">{checkSentence(example)}</p>
        <p className="note">
          {example.setBy}, {at(example.setAt)}
          {example.note ? `: “${example.note}”` : ''}
          {withdrawnAt === null ? '' : words.withdrawnBy(example.withdrawnBy ?? words.somebody, at(withdrawnAt))}
        </p>
        {sure ? (
          <div className="does">
            <button type="button" disabled={move.busy} onClick={() => move.run(() => withdrawExample(example.id))}>
              {move.busy ? <Sending word={words.withdrawing} /> : words.withdrawIt}
            </button>
            <button type="button" onClick={() => setSure(false)}>
              {words.keepIt}
            </button>
          </div>
        ) : null}
        <Refused text={move.refused} />
      </div>
      {engineer && withdrawnAt === null && !sure ? (
        <button type="button" onClick={() => setSure(true)}>
          <Rich
            text={words.withdraw}
            parts={{ span: () => <span className="unseen">{causeTitle(example.verified)}</span> }}
          />
        </button>
      ) : null}
    </li>
  );
}
