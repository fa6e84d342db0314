import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { Rationalisation } from '../../shared/contract/rationalisation.ts';
import { useAddress } from '../address/useAddress.ts';
import { recordPath, respondWithin, versionSaid } from '../alerts/ResponseSteps.tsx';
import { rationalisationsQuestion } from '../api/alarmQuestions.ts';
import { FindField } from '../frame/FindField.tsx';
import { useKeys } from '../frame/keys.ts';
import { Answered } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useTitle } from '../frame/title.ts';
import { PRIORITY_WORD, RESPONDER_MEANING, SIGNATURE_TITLE } from '../notation/words.ts';
import { words } from '../strings/rationalisation.ts';

import { type RecordsAddress, recordsCodec } from './address.ts';
import { KindChoice } from './KindChoice.tsx';
import { recordsSentence } from './recordWords.ts';

export function RecordsPage() {
  useTitle(words.whyAlertsAreRaised);
  const [address, change] = useAddress(recordsCodec);
  const [, go] = useLocation();
  const question = useQuery(rationalisationsQuestion(address.kind));
  useKeys({ escape: () => go('/alerts') });
  const records = question.data?.records ?? [];
  const shown = records.filter((record) => isFound(record, address));
  return (
    <>
      <Head
        margin={
          <>
            {words.alerts}
            <br />
            <b>{words.whyTheyAreRaised}</b>
          </>
        }
      >
        <h1 className="verdict">{question.data ? recordsSentence(records, address.kind) : words.whyIsEachKind}</h1>
        <p className="facts">
          <span>
            <Link href="/alerts">{words.theAlerts}</Link>
          </span>
          <span>
            <Link href="/performance">{words.howWellTheyDo}</Link>
          </span>
        </p>
      </Head>
      <Section>
        <Filters address={address} change={change} />
      </Section>
      <Section className="sec last" label={words.records} margin={words.recordsMargin}>
        {question.data === undefined || question.isError ? (
          <Answered question={question} what={words.theRecords} lines={8}>
            {() => null}
          </Answered>
        ) : null}
        {question.data && shown.length === 0 ? (
          <p className="say">{words.noKindOfAlertFits}</p>
        ) : (
          <RecordRows records={shown} kind={address.kind} />
        )}
      </Section>
    </>
  );
}

function isFound({ signature, version, record }: Rationalisation, { find, show }: RecordsAddress): boolean {
  if (show === 'written-anew' && version === 0) return false;
  const text = [
    SIGNATURE_TITLE[signature],
    signature,
    record.priority,
    record.owner,
    ...record.causes,
    ...record.responseSteps,
  ]
    .join('\n')
    .toLowerCase();
  return find
    .toLowerCase()
    .split(/\s+/)
    .every((word) => text.includes(word));
}

interface FiltersProps {
  readonly address: RecordsAddress;
  readonly change: (part: Partial<RecordsAddress>, how?: 'push' | 'replace') => void;
}

function Filters({ address, change }: FiltersProps) {
  return (
    <search className="tools unfolded">
      <FindField
        value={address.find}
        size={18}
        hint={words.causeStepOwner}
        find={(find) => change({ find }, 'replace')}
      />
      <KindChoice kind={address.kind} choose={(kind) => change({ kind })} />
      <label className="check">
        <input
          type="checkbox"
          checked={address.show === 'written-anew'}
          onChange={(event) => change({ show: event.target.checked ? 'written-anew' : 'all' })}
        />
        {words.onlyThoseTheSite}
      </label>
    </search>
  );
}

function RecordRows({ records, kind }: { readonly records: readonly Rationalisation[]; readonly kind: string }) {
  const [at, setAt] = useState(-1);
  const [, go] = useLocation();
  const step = (by: number) => setAt(Math.max(0, Math.min(records.length - 1, at + by)));
  const selected = records[at];
  const path = ({ signature }: Rationalisation) => recordPath(signature, kind === '' ? null : kind);
  useKeys({
    j: () => step(1),
    down: () => step(1),
    k: () => step(-1),
    up: () => step(-1),
    enter: selected ? () => go(path(selected)) : undefined,
  });
  if (records.length === 0) return null;
  return (
    <table className="evtab records">
      <thead>
        <tr>
          <th scope="col">{words.alert}</th>
          <th scope="col">{words.priority}</th>
          <th scope="col">{words.time}</th>
          <th scope="col">{words.firstStep}</th>
          <th scope="col">{words.ownerVersion}</th>
        </tr>
      </thead>
      <tbody>
        {records.map((one) => (
          <tr
            key={one.signature}
            className={one === selected ? 'sel' : undefined}
            ref={(row) => {
              if (one === selected) row?.scrollIntoView({ block: 'nearest' });
            }}
          >
            <th scope="row">
              <Link href={path(one)}>{SIGNATURE_TITLE[one.signature]}</Link>
            </th>
            <td data-name={words.priority}>{PRIORITY_WORD[one.record.priority]}</td>
            <td className="num" data-name={words.time}>
              {respondWithin(one.record.timeToRespondMinutes)}
              <span className="note block">{one.record.responder}</span>
            </td>
            <td data-name={words.firstStep}>
              <span className="so">
                <Sentence text={one.record.responseSteps[0] ?? ''} />
              </span>
              <span className="unseen">{RESPONDER_MEANING[one.record.responder]}</span>
            </td>
            <td data-name={words.ownerVersion}>
              {one.record.owner}
              <span className="note block">
                {one.kind === null ? versionSaid(one) : words.versionFor(versionSaid(one), one.kind)}
              </span>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
