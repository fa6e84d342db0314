import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import { roundQuestion, signedRoundQuestion } from '../api/questions.ts';
import type { SignedRoundDetail } from '../api/shapes.ts';
import { nowMs } from '../frame/clock.ts';
import { Answered, isMissing, NotFound } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useZone } from '../frame/site.ts';
import { useTitle } from '../frame/title.ts';
import { several } from '../notation/sentence.ts';
import { moment, offsetText } from '../notation/time.ts';
import { HEALTH_TITLE } from '../notation/words.ts';

/** A round as it was signed: who, when, what was written and what was seen. */
export function SignedRoundPage({ id }: { readonly id: string }) {
  useTitle('Signed round');
  const question = useQuery(signedRoundQuestion(id));
  if (question.data === undefined && isMissing(question.error)) {
    return <NotFound sentence={`There is no signed round ${id}.`} />;
  }
  if (question.data === undefined) {
    return (
      <Section className="head" margin="Signed round">
        <Answered question={question} what="The signed round">
          {() => null}
        </Answered>
      </Section>
    );
  }
  return <Seen round={question.data} />;
}

function Seen({ round }: { readonly round: SignedRoundDetail }) {
  const zone = useZone();
  const { data: now } = useQuery(roundQuestion);
  const area = now?.areas.find(({ id }) => id === round.area)?.name ?? round.area;
  const at = Date.parse(round.at);
  return (
    <>
      <Head margin="Signed round">
        <h1 className="verdict">
          {round.by} signed {area} {moment(at, zone, nowMs())} ({offsetText(at, zone)}) and saw{' '}
          {several(round.chambers.length, 'chamber')}.
        </h1>
        <p className="facts">
          <span>{round.note === '' ? 'No note for the handover.' : `For the handover: ${round.note}`}</span>
        </p>
      </Head>
      <Section className="sec last" margin="as it was then">
        <h2>What was seen</h2>
        <div className="scrolls">
          <table>
            <thead>
              <tr>
                <th scope="col">Chamber</th>
                <th scope="col">Stood</th>
                <th scope="col">It was said</th>
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
    </>
  );
}
