import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { Rationalisation } from '../../shared/contract/rationalisation.ts';
import { rationalisationsQuestion } from '../api/alarmQuestions.ts';
import { roundQuestion, signaturesQuestion } from '../api/questions.ts';
import type { AlertWithLife } from '../api/shapes.ts';
import { Gate } from '../frame/Brand.tsx';
import { Answered } from '../frame/PageState.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { duration } from '../notation/age.ts';
import { capital } from '../notation/sentence.ts';
import { PRIORITY_WORD, RESPONDER_MEANING, SEVERITY_MEANING } from '../notation/words.ts';
import { words } from '../strings/alertMoves.ts';
import { Rich } from '../strings/Rich.tsx';

const MINUTE_SECONDS = 60;
export const respondWithin = (minutes: number): string => duration(minutes * MINUTE_SECONDS);

/** `version 3, set by M. Tveit`, or as the product brings it. */
export const versionSaid = ({ version, setBy }: Pick<Rationalisation, 'version' | 'setBy'>): string =>
  version === 0 ? words.asTheProductBrings : setBy ? words.versionBy(version, setBy) : words.version(version);

/** What to do, as the record says it that was in force when the alert was last said. */
export function ResponseSteps({ alert }: { readonly alert: AlertWithLife }) {
  if (alert.rationalisation === null) return <StepsOfTheProduct alert={alert} />;
  const { record } = alert.rationalisation;
  return (
    <>
      <Cautions list={record.cautions} />
      <Steps list={record.responseSteps} />
      <dl className="asked">
        <div>
          <dt>{words.timeToRespond2}</dt>
          <dd>
            {respondWithin(record.timeToRespondMinutes)}; {RESPONDER_MEANING[record.responder]}
          </dd>
        </div>
        <div>
          <dt>{words.ifNobodyDoes}</dt>
          <dd>
            <Sentence text={record.consequence} />
            <span className="note"> {SEVERITY_MEANING[record.severity]}</span>
          </dd>
        </div>
        <div>
          <dt>{words.whyItIsRaised}</dt>
          <dd>
            <Sentence text={record.basis} />
          </dd>
        </div>
        <div>
          <dt>{words.whatUsuallyCauses}</dt>
          <dd>
            <ul>
              {record.causes.map((cause) => (
                <li key={cause}>
                  <Sentence text={cause} />
                </li>
              ))}
            </ul>
          </dd>
        </div>
      </dl>
      {alert.newerRationalisation === null ? null : <OtherVersion alert={alert} told={alert.rationalisation} />}
    </>
  );
}

/** In the margin beside the steps: whose words they are. */
export function WhoseSteps({ alert }: { readonly alert: AlertWithLife }) {
  const told = alert.rationalisation;
  if (told === null) return <>{words.fromTheProductsOwnSheet}</>;
  return (
    <>
      <p>{versionSaid(told)}</p>
      <p>{told.kind === null ? words.forEveryKindOfChamber : words.forTheKind(told.kind)}</p>
      <p>{words.owner(told.record.owner)}</p>
      <p>
        <Link href={recordPath(alert.signature, told.kind)}>{words.theRecord}</Link>
      </p>
    </>
  );
}

export const recordPath = (signature: string, kind: string | null): string =>
  `/rationalisation/${encodeURIComponent(signature)}${kind === null ? '' : `?kind=${encodeURIComponent(kind)}`}`;

/** What has changed since the alert was last said belongs beside the steps that were in force then. */
function OtherVersion({ alert, told }: { readonly alert: AlertWithLife; readonly told: Rationalisation }) {
  const { data: round } = useQuery(roundQuestion);
  const kind = round?.areas.flatMap(({ chambers }) => chambers).find(({ id }) => id === alert.chamber)?.kind;
  const { data } = useQuery({ ...rationalisationsQuestion(kind ?? ''), enabled: round !== undefined });
  const now = data?.records.find(({ signature }) => signature === alert.signature);
  if (!now) return null;
  return (
    <p className="bar" role="note">
      <span>
        <Rich
          text={words.anotherRecordIsInForce(
            versionSaid(now),
            now.kind === told.kind ? '' : now.kind === null ? words.forEveryKind : words.forTheKind2(now.kind),
            versionSaid(told),
            now.record.priority === told.record.priority ? '' : words.itsPriority(PRIORITY_WORD[now.record.priority]),
          )}
          parts={{ b: (inner) => <b>{inner}</b> }}
        />
      </span>
      <Link className="btn" href={recordPath(alert.signature, now.kind)}>
        {words.seeWhatChanged}
      </Link>
    </p>
  );
}

function StepsOfTheProduct({ alert }: { readonly alert: AlertWithLife }) {
  const question = useQuery(signaturesQuestion);
  return (
    <Answered question={question} what={words.theResponseSteps}>
      {({ signatures }) => {
        const sheet = signatures.find(({ signature }) => signature === alert.signature);
        if (!sheet) return <p className="note">{words.noStepsAreWritten}</p>;
        return (
          <>
            <Cautions list={sheet.cautions} />
            <Steps list={sheet.steps} />
            <p className="note">
              <Sentence text={sheet.meaning} />
            </p>
          </>
        );
      }}
    </Answered>
  );
}

export function Steps({ list }: { readonly list: readonly string[] }) {
  return (
    <ol className="steps">
      {list.map((step) => (
        <li key={step}>
          <p className="say">
            <Sentence text={capital(step)} />
          </p>
        </li>
      ))}
    </ol>
  );
}

export function Cautions({ list }: { readonly list: readonly string[] }) {
  if (list.length === 0) return null;
  return (
    <div className="caution">
      <Gate />
      <b>{words.beforeAnythingIsOpened}</b>
      <ul>
        {list.map((caution) => (
          <li key={caution}>
            <Sentence text={caution} />
          </li>
        ))}
      </ul>
      <p>{words.theSitesOwnProceduresLocal}</p>
    </div>
  );
}
