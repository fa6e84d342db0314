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
import { recordCodec } from './address.ts';
import { FieldValue } from './FieldValue.tsx';
import { KindChoice } from './KindChoice.tsx';
import { MatrixTable } from './MatrixTable.tsx';
import { RecordForm } from './RecordForm.tsx';
import { RecordHistory } from './RecordHistory.tsx';
import { FIELD_TITLE, FIELDS, fieldText } from './recordWords.ts';

const isSignature = (word: string): word is Signature => (SIGNATURES as readonly string[]).includes(word);

export function RecordPage({ signature }: { readonly signature: string }) {
  if (!isSignature(signature)) return <NotFound sentence={`There is no kind of alert called ${signature}.`} />;
  return <TheRecord signature={signature} />;
}

function TheRecord({ signature }: { readonly signature: Signature }) {
  useTitle(`Why: ${SIGNATURE_TITLE[signature]}`);
  const [address, change] = useAddress(recordCodec);
  const [, go] = useLocation();
  const question = useQuery(rationalisationsQuestion(address.kind));
  const editing = address.edit === 'yes';
  useKeys({ escape: () => (editing ? change({ edit: 'no' }) : go('/rationalisation')) });
  const record = question.data?.records.find((one) => one.signature === signature);
  if (question.data && !record)
    return <NotFound sentence={`Nothing is written yet about ${SIGNATURE_TITLE[signature]}.`} />;
  if (question.data === undefined && isMissing(question.error))
    return <NotFound sentence={`There is no kind of alert called ${signature}.`} />;
  return (
    <>
      <Head margin={record ? <WhoseRecord record={record} /> : 'Record'}>
        <div className="where">
          <b>{SIGNATURE_TITLE[signature]}</b>
          <span className="note">
            <Link href="/rationalisation">all kinds of alert</Link> ·{' '}
            <Link href={`/alerts?state=all&signature=${signature}`}>its alerts</Link>
          </span>
        </div>
        <h1 className="verdict">{record ? headSentence(record) : `Why is “${SIGNATURE_TITLE[signature]}” raised?`}</h1>
        <search className="tools unfolded">
          <KindChoice kind={address.kind} choose={(kind) => change({ kind, rehearsal: '' })} />
          {record && address.kind !== '' && record.kind === null ? (
            <span className="note">no record of its own: that for every kind holds</span>
          ) : null}
        </search>
      </Head>
      {question.data === undefined || question.isError ? (
        <Section className="sec">
          <Answered question={question} what="The record" lines={8}>
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
  const who = record.responder === 'operator' ? 'the shift' : 'an engineer';
  const time = respondWithin(record.timeToRespondMinutes);
  return `It asks ${who} to respond within ${time}. Priority ${PRIORITY_WORD[record.priority].toLowerCase()}: ${PRIORITY_MEANING[record.priority]}.`;
}

function WhoseRecord({ record }: { readonly record: Rationalisation }) {
  return (
    <>
      <p>Why it is raised</p>
      <p>
        <b>{versionSaid(record)}</b>
      </p>
      <p>{record.kind === null ? 'for every kind' : `for the kind ${record.kind}`}</p>
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
      <Section className="sec in-record" label="What to do" margin="the first step is said in the alert">
        <h2>What to do</h2>
        <Cautions list={record.cautions} />
        <Steps list={record.responseSteps} />
      </Section>
      <Section className="sec" label="The record" margin={`owner: ${record.owner}`}>
        <h2>The record</h2>
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
              Write it anew
            </button>
            <span className="note">it can be rehearsed on the past before it is saved</span>
          </div>
        ) : (
          <p className="note">Changing it needs the role engineer.</p>
        )}
      </Section>
    </>
  );
}
