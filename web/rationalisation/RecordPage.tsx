import { useQuery } from '@tanstack/react-query';
import { Link, useLocation } from 'wouter';
import type { Rationalisation } from '../../shared/contract/rationalisation.ts';
import { SIGNATURES, type Signature } from '../../shared/contract/words.ts';
import { useAddress } from '../address/useAddress.ts';
import { Cautions, respondWithin, Steps, versionSaid } from '../alerts/ResponseSteps.tsx';
import { rationalisationsQuestion } from '../api/alarmQuestions.ts';
import { useKeys } from '../frame/keys.ts';
import { Answered, isMissing, NotFound } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { useMay } from '../frame/site.ts';
import { useTitle } from '../frame/title.ts';
import { PRIORITY_MEANING, PRIORITY_WORD, SIGNATURE_TITLE } from '../notation/words.ts';
import { words } from '../strings/rationalisation.ts';

import { recordCodec } from './address.ts';
import { FieldValue } from './FieldValue.tsx';
import { KindChoice } from './KindChoice.tsx';
import { MatrixTable } from './MatrixTable.tsx';
import { RecordForm } from './RecordForm.tsx';
import { RecordHistory } from './RecordHistory.tsx';
import { FIELD_TITLE, FIELDS, fieldText } from './recordWords.ts';

const isSignature = (word: string): word is Signature => (SIGNATURES as readonly string[]).includes(word);

export function RecordPage({ signature }: { readonly signature: string }) {
  if (!isSignature(signature)) return <NotFound sentence={words.thereIsNoKind(signature)} />;
  return <TheRecord signature={signature} />;
}

function TheRecord({ signature }: { readonly signature: Signature }) {
  useTitle(words.why(SIGNATURE_TITLE[signature]));
  const [address, change] = useAddress(recordCodec);
  const [, go] = useLocation();
  const question = useQuery(rationalisationsQuestion(address.kind));
  const editing = address.edit === 'yes';
  useKeys({ escape: () => (editing ? change({ edit: 'no' }) : go('/rationalisation')) });
  const record = question.data?.records.find((one) => one.signature === signature);
  if (question.data && !record)
    return <NotFound sentence={words.nothingIsWrittenYetAbout(SIGNATURE_TITLE[signature])} />;
  if (question.data === undefined && isMissing(question.error))
    return <NotFound sentence={words.thereIsNoKind(signature)} />;
  return (
    <>
      <Head margin={record ? <WhoseRecord record={record} /> : words.record}>
        <div className="where">
          <b>{SIGNATURE_TITLE[signature]}</b>
          <span className="note">
            <Link href="/rationalisation">{words.allKindsOfAlert}</Link> ·{' '}
            <Link href={`/alerts?state=all&signature=${signature}`}>{words.itsAlerts}</Link>
          </span>
        </div>
        <h1 className="verdict">{record ? headSentence(record) : words.whyIsRaised(SIGNATURE_TITLE[signature])}</h1>
        <search className="tools unfolded">
          <KindChoice kind={address.kind} choose={(kind) => change({ kind, rehearsal: '' })} />
          {record && address.kind !== '' && record.kind === null ? (
            <span className="note">{words.noRecordOfItsOwn}</span>
          ) : null}
        </search>
      </Head>
      {question.data === undefined || question.isError ? (
        <Section className="sec">
          <Answered question={question} what={words.theRecord} lines={8}>
            {() => null}
          </Answered>
        </Section>
      ) : null}
      {record ? (
        <>
          {editing ? (
            <RecordForm
              key={`${record.version} ${record.kind}`}
              inForce={record}
              kind={address.kind}
              rehearsal={address.rehearsal}
              show={(rehearsal) => change({ rehearsal }, 'replace')}
              done={() => change({ edit: 'no', rehearsal: '' })}
            />
          ) : (
            <Reading record={record} edit={() => change({ edit: 'yes' })} />
          )}
          <RecordHistory signature={signature} kind={address.kind} inForce={record} />
        </>
      ) : null}
    </>
  );
}

/** What it asks for, in one sentence. */
export function headSentence({ record }: Rationalisation): string {
  const who = record.responder === 'operator' ? words.theShift : words.anEngineer;
  const time = respondWithin(record.timeToRespondMinutes);
  return words.itAsksToRespondWithin(
    who,
    time,
    PRIORITY_WORD[record.priority].toLowerCase(),
    PRIORITY_MEANING[record.priority],
  );
}

function WhoseRecord({ record }: { readonly record: Rationalisation }) {
  return (
    <>
      <p>{words.whyItIsRaised}</p>
      <p>
        <b>{versionSaid(record)}</b>
      </p>
      <p>{record.kind === null ? words.forEveryKind : words.forTheKind(record.kind)}</p>
    </>
  );
}

/** Shown on their own above the table. */
const SHOWN_APART: ReadonlySet<string> = new Set(['responseSteps', 'cautions']);

function Reading({ record: one, edit }: { readonly record: Rationalisation; readonly edit: () => void }) {
  const { record } = one;
  const engineer = useMay('engineer');
  return (
    <>
      <Section className="sec in-record" label={words.whatToDo} margin={words.theFirstStepIsSaid}>
        <h2>{words.whatToDo}</h2>
        <Cautions list={record.cautions} />
        <Steps list={record.responseSteps} />
      </Section>
      <Section className="sec" label={words.theRecord} margin={words.owner(record.owner)}>
        <h2>{words.theRecord}</h2>
        <dl className="asked record">
          {FIELDS.filter((field) => !SHOWN_APART.has(field)).map((field) => (
            <div key={field}>
              <dt>{FIELD_TITLE[field]}</dt>
              <dd>
                <FieldValue value={fieldText(record, field)} />
              </dd>
            </div>
          ))}
        </dl>
        <MatrixTable severity={record.severity} minutes={record.timeToRespondMinutes} chosen={record.priority} />
        {engineer ? (
          <div className="does">
            <button type="button" onClick={edit}>
              {words.writeItAnew}
            </button>
            <span className="note">{words.itCanBeRehearsed}</span>
          </div>
        ) : (
          <p className="note">{words.changingItNeedsTheRole}</p>
        )}
      </Section>
    </>
  );
}
