import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { PressureUnit } from '../../shared/contract/words.ts';
import { query } from '../api/ask.ts';
import { alertQuestion, roundQuestion } from '../api/questions.ts';
import type { AlertWithLife } from '../api/shapes.ts';
import { StripFigure } from '../chamber/StripFigure.tsx';
import { Age, Lasting } from '../frame/Age.tsx';
import { nowMs } from '../frame/clock.ts';
import { Flag } from '../frame/Flag.tsx';
import { Answered, isMissing, NotFound } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useUnit, useZone } from '../frame/site.ts';
import { useTitle } from '../frame/title.ts';
import { moment } from '../notation/time.ts';
import { PRIORITY_MEANING, PRIORITY_WORD, SIGNATURE_TITLE, STATE_MEANING } from '../notation/words.ts';
import { words } from '../strings/alerts.ts';
import { Rich } from '../strings/Rich.tsx';
import { ActionBar } from './ActionBar.tsx';
import { AlertForms } from './AlertForms.tsx';
import { ChangeSection } from './ChangeSection.tsx';
import { EvidenceTable, HowToReadEvidence } from './EvidenceTable.tsx';
import { FourAnswers } from './FourAnswers.tsx';
import { GroupLine } from './GroupLine.tsx';
import { LifeLine } from './LifeLine.tsx';
import { ResponseSteps, respondWithin, WhoseSteps } from './ResponseSteps.tsx';
import { Standing } from './Standing.tsx';
import { useShownState } from './underway.ts';

export function AlertPage({ id }: { readonly id: string }) {
  const question = useQuery(alertQuestion(id));
  useTitle(question.data ? SIGNATURE_TITLE[question.data.signature] : words.alert);
  if (question.data === undefined && isMissing(question.error)) return <NotFound sentence={words.thereIsNoAlert(id)} />;
  return (
    <>
      {question.data === undefined || question.isError ? (
        <Section className="head" margin={words.alert}>
          <Answered question={question} what={words.theAlert} lines={6} page>
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
      <Section className="sec" margin={<HowToReadEvidence />}>
        <h2>{words.evidence}</h2>
        <EvidenceTable evidence={alert.evidence} />
      </Section>
      <Section className="sec" margin={<WhoseSteps alert={alert} />}>
        <div className="split act2">
          <div>
            <h2 id="steps">{words.whatToDo}</h2>
            <ResponseSteps alert={alert} />
          </div>
          <div>
            <h2>{words.itsLifeSoFar}</h2>
            <LifeLine alert={alert} />
            <AlertForms alert={alert} />
          </div>
        </div>
      </Section>
      <ChangeSection change={alert.change} />
    </>
  );
}

const NO_MORE: readonly string[] = [];

const chamberPath = ({ chamber, id }: AlertWithLife): string =>
  `/chambers/${encodeURIComponent(chamber)}?alert=${encodeURIComponent(id)}`;

/** The server finds the span: from before the alert to its end, or to the newest scan. */
const ticketOf = ({ chamber, id }: AlertWithLife, unit: PressureUnit): string =>
  `/chambers/${encodeURIComponent(chamber)}/ticket${query({ alert: id, unit: unit === 'Pa' ? null : unit })}`;

function AlertHead({ alert }: { readonly alert: AlertWithLife }) {
  const zone = useZone();
  const unit = useUnit();
  const { data: round } = useQuery(roundQuestion);
  const line = round?.areas.flatMap((area) => area.chambers.map((chamber) => ({ area, chamber })));
  const here = line?.find(({ chamber }) => chamber.id === alert.chamber);
  const shown = useShownState(alert.id, alert.state);
  return (
    <Head
      flag={<Flag priority={alert.priority} state={shown.state} scale={2.1} onRule />}
      margin={
        <>
          <p className={`pri ${alert.priority}`}>{PRIORITY_WORD[alert.priority]}</p>
          <p>{shown.word}</p>
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
          <Rich
            text={words.raisedFacts(
              here ? `, ${here.area.name}` : '',
              alert.analyser ? words.analyser(alert.analyser) : '',
              moment(Date.parse(alert.raisedAt), zone, nowMs()),
              alert.rationalisation
                ? words.timeToRespond(respondWithin(alert.rationalisation.record.timeToRespondMinutes))
                : '',
            )}
            parts={{
              link: () => <Link href={chamberPath(alert)}>{here?.chamber.name ?? alert.chamber}</Link>,
              id: () => <span className="code">{alert.id}</span>,
              age: () => <Age at={alert.raisedAt} />,
            }}
          />
        </span>
      </div>
      <div className="top">
        <h1 className="verdict">
          <span className="narrow-only">
            <b className={`pri ${alert.priority}`}>{PRIORITY_WORD[alert.priority]}.</b>{' '}
          </span>
          <Sentence text={alert.summary} />
        </h1>
        {here ? <StripFigure line={here.chamber} gases={NO_MORE} /> : null}
      </div>
      <p className="facts">
        <span>
          {PRIORITY_WORD[alert.priority]}: {PRIORITY_MEANING[alert.priority]}
        </span>
        <span>{alert.state === 'normal' ? words.over : `${alert.state}: ${STATE_MEANING[alert.state]}`}</span>
      </p>
      <GroupLine alert={alert} />
      <Standing alert={alert} />
      <FourAnswers alert={alert} />
      <ActionBar
        alert={alert}
        chamber={alert.chamber}
        analyser={alert.analyser ?? ''}
        ticket={() => ticketOf(alert, unit)}
        back="/alerts"
      >
        <Link className="btn" href={chamberPath(alert)}>
          {words.theChamber}
        </Link>
      </ActionBar>
    </Head>
  );
}
