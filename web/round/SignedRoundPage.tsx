import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { SignedRoundDetail } from '../../shared/contract/round.ts';
import { signedRoundQuestion } from '../api/roundQuestions.ts';
import { nowMs } from '../frame/clock.ts';
import { Answered, isMissing, NotFound } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useZone } from '../frame/site.ts';
import { useTitle } from '../frame/title.ts';
import { moment, offsetText } from '../notation/time.ts';
import { HEALTH_TITLE } from '../notation/words.ts';
import { words } from '../strings/handover.ts';
import { CountersignForm } from './CountersignForm.tsx';
import { HandoverLists } from './HandoverLists.tsx';
import { SignatureLines } from './Paper.tsx';

/** A round as it was signed: who, when, what was seen, what was handed over, and who took it over. */
export function SignedRoundPage({ id }: { readonly id: string }) {
  useTitle(words.title);
  const question = useQuery(signedRoundQuestion(id));
  if (question.data === undefined && isMissing(question.error)) return <NotFound sentence={words.noRound(id)} />;
  if (question.data === undefined) {
    return (
      <Section className="head" margin={words.title}>
        <Answered question={question} what={words.theRound} page>
          {() => null}
        </Answered>
      </Section>
    );
  }
  return <Signed round={question.data} />;
}

function Signed({ round }: { readonly round: SignedRoundDetail }) {
  const zone = useZone();
  const at = Date.parse(round.at);
  const when = `${moment(at, zone, nowMs())} (${offsetText(at, zone)})`;
  const took = round.countersigned;
  return (
    <>
      <Head margin={words.title}>
        <h1 className="verdict">{words.signedAndSaw(round.by, round.areaName, when, round.chambers.length)}</h1>
        <p className="facts">
          <span>{round.note === '' ? words.noNote : words.note(round.note)}</span>
          <span>{took ? tookSaid(took, zone) : words.notYet}</span>
          <span>
            <Link href="/rounds">{words.allRounds}</Link>
          </span>
        </p>
        {took ? null : <CountersignForm rounds={[round.id]} signers={[round.by]} />}
      </Head>
      <Section className="sec handing" margin={words.marginKept}>
        <h2>{words.handover}</h2>
        {round.handover ? (
          <HandoverLists areas={[round.handover]} asOf={at} />
        ) : (
          <p className="note">{words.notKept}</p>
        )}
      </Section>
      <Seen round={round} />
      <SignatureLines />
    </>
  );
}

function tookSaid({ by, at, note }: NonNullable<SignedRoundDetail['countersigned']>, zone: string): string {
  const when = moment(Date.parse(at), zone, nowMs());
  return note === '' ? words.takenOver(by, when) : words.takenOverWith(by, when, note);
}

function Seen({ round }: { readonly round: SignedRoundDetail }) {
  return (
    <Section className="sec last" margin={words.marginKept}>
      <h2>{words.wasSeen}</h2>
      <div className="scrolls">
        <table>
          <thead>
            <tr>
              <th scope="col">{words.chamber}</th>
              <th scope="col">{words.stood}</th>
              <th scope="col">{words.itWasSaid}</th>
            </tr>
          </thead>
          <tbody>
            {round.chambers.map((line) => (
              <tr key={line.id}>
                <th scope="row">
                  <Link href={`/chambers/${encodeURIComponent(line.id)}`}>{line.name}</Link>
                </th>
                <td>{HEALTH_TITLE[line.health].toLowerCase()}</td>
                <td>
                  <span className="so">
                    <Sentence text={line.say} />
                  </span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Section>
  );
}
