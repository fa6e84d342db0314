import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import { alertQuestion, roundQuestion } from '../api/questions.ts';
import type { AlertWithLife } from '../api/shapes.ts';
import { Age, Lasting } from '../frame/Age.tsx';
import { nowMs } from '../frame/clock.ts';
import { Flag } from '../frame/Flag.tsx';
import { Answered, isMissing, NotFound } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useZone } from '../frame/site.ts';
import { useTitle } from '../frame/title.ts';
import { moment } from '../notation/time.ts';
import { PRIORITY_MEANING, PRIORITY_WORD, SIGNATURE_TITLE, STATE_MEANING } from '../notation/words.ts';
import { AlertForms } from './AlertForms.tsx';
import { ChangeSection } from './ChangeSection.tsx';
import { EvidenceTable, HowToReadEvidence } from './EvidenceTable.tsx';
import { FourAnswers } from './FourAnswers.tsx';
import { GroupLine } from './GroupLine.tsx';
import { LifeLine } from './LifeLine.tsx';
import { ResponseSteps, respondWithin, WhoseSteps } from './ResponseSteps.tsx';
import { Standing } from './Standing.tsx';

export function AlertPage({ id }: { readonly id: string }) {
  const question = useQuery(alertQuestion(id));
  useTitle(question.data ? SIGNATURE_TITLE[question.data.signature] : 'Alert');
  if (question.data === undefined && isMissing(question.error))
    return <NotFound sentence={`There is no alert ${id}.`} />;
  return (
    <>
      {question.data === undefined || question.isError ? (
        <Section className="head" margin="Alert">
          <Answered question={question} what="The alert" lines={6}>
            {() => null}
          </Answered>
        </Section>
      ) : null}
      {question.data ? <TheAlert alert={question.data} /> : null}
    </>
  );
}

function TheAlert({ alert }: { readonly alert: AlertWithLife }) {
  return (
    <>
      <AlertHead alert={alert} />
      <Section className="sec" margin={<WhoseSteps alert={alert} />}>
        <div className="split act2">
          <div>
            <h2>What to do</h2>
            <ResponseSteps alert={alert} />
          </div>
          <div>
            <h2>Its life so far</h2>
            <LifeLine alert={alert} />
            <AlertForms alert={alert} />
          </div>
        </div>
      </Section>
      <Section className="sec" margin={<HowToReadEvidence />}>
        <h2>Evidence</h2>
        <EvidenceTable evidence={alert.evidence} />
      </Section>
      <ChangeSection change={alert.change} />
    </>
  );
}

function AlertHead({ alert }: { readonly alert: AlertWithLife }) {
  const zone = useZone();
  const { data: round } = useQuery(roundQuestion);
  const line = round?.areas.flatMap((area) => area.chambers.map((chamber) => ({ area, chamber })));
  const here = line?.find(({ chamber }) => chamber.id === alert.chamber);
  return (
    <Head
      flag={<Flag priority={alert.priority} state={alert.state} scale={2.1} onRule />}
      margin={
        <>
          <p className={`pri ${alert.priority}`}>{PRIORITY_WORD[alert.priority]}</p>
          <p>{alert.state === 'normal' ? 'over' : alert.state}</p>
          {alert.state === 'normal' ? null : (
            <p>
              <Lasting since={alert.raisedAt} />
            </p>
          )}
        </>
      }
    >
      <div className="where">
        <b>{SIGNATURE_TITLE[alert.signature]}</b>
        <span className="note">
          <Link href={`/chambers/${encodeURIComponent(alert.chamber)}?alert=${encodeURIComponent(alert.id)}`}>
            {here?.chamber.name ?? alert.chamber}
          </Link>
          {here ? `, ${here.area.name}` : ''}
          {alert.analyser ? ` · analyser ${alert.analyser}` : ''} · alert <span className="code">{alert.id}</span> ·
          raised {moment(Date.parse(alert.raisedAt), zone, nowMs())}, <Age at={alert.raisedAt} />
          {alert.rationalisation
            ? ` · time to respond ${respondWithin(alert.rationalisation.record.timeToRespondMinutes)}`
            : ''}
        </span>
      </div>
      <h1 className="verdict">
        <span className="narrow-only">
          <b className={`pri ${alert.priority}`}>{PRIORITY_WORD[alert.priority]}.</b>{' '}
        </span>
        <Sentence text={alert.summary} />
      </h1>
      <p className="facts">
        <span>
          {PRIORITY_WORD[alert.priority]}: {PRIORITY_MEANING[alert.priority]}
        </span>
        <span>{alert.state === 'normal' ? 'over' : `${alert.state}: ${STATE_MEANING[alert.state]}`}</span>
      </p>
      <GroupLine alert={alert} />
      <Standing alert={alert} />
      <FourAnswers alert={alert} />
    </Head>
  );
}
