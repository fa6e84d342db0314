import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { SignedRoundLine } from '../../shared/contract/round.ts';
import { useAddress } from '../address/useAddress.ts';
import { roundQuestion } from '../api/questions.ts';
import { roundsQuestion } from '../api/roundQuestions.ts';
import { nowMs } from '../frame/clock.ts';
import { Answered } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { useZone } from '../frame/site.ts';
import { useTitle } from '../frame/title.ts';
import { moment } from '../notation/time.ts';
import { words } from '../strings/handover.ts';
import { FIRST_ROUNDS, MOST_ROUNDS, roundsCodec } from './address.ts';
import { Choice } from './Choice.tsx';

/** Earlier rounds can be found: who signed which area when, and who took it over. */
export function SignedRoundsPage() {
  useTitle(words.rounds);
  const [{ area, show }, change] = useAddress(roundsCodec);
  const question = useQuery(roundsQuestion({ area, limit: show }));
  const { data: round } = useQuery(roundQuestion);
  const areas = (round?.areas ?? []).map(({ id, name }) => [id, name] as const);
  return (
    <>
      <Head margin={words.rounds}>
        <h1 className="verdict">{words.listSentence}</h1>
      </Head>
      <Section className="sec last">
        <search className="tools unfolded">
          <Choice name={words.area} value={area} options={areas} choose={(next) => change({ area: next })} />
        </search>
        <Answered question={question} what={words.theRounds} lines={6}>
          {({ rounds }) => (
            <>
              {rounds.length === 0 ? <p className="say">{words.noneSigned}</p> : <Rounds rounds={rounds} />}
              {rounds.length === show && show < MOST_ROUNDS ? (
                <p className="does">
                  <button
                    type="button"
                    onClick={() => change({ show: Math.min(MOST_ROUNDS, show + FIRST_ROUNDS) }, 'replace')}
                  >
                    {words.more}
                  </button>
                </p>
              ) : null}
            </>
          )}
        </Answered>
      </Section>
    </>
  );
}

function Rounds({ rounds }: { readonly rounds: readonly SignedRoundLine[] }) {
  const zone = useZone();
  const at = (instant: string) => moment(Date.parse(instant), zone, nowMs());
  return (
    <div className="scrolls">
      <table>
        <thead>
          <tr>
            <th scope="col">{words.signed}</th>
            <th scope="col">{words.area}</th>
            <th scope="col">{words.by}</th>
            <th scope="col">{words.took}</th>
            <th scope="col">{words.noteHead}</th>
          </tr>
        </thead>
        <tbody>
          {rounds.map((one) => (
            <tr key={one.id}>
              <th scope="row">
                <Link href={`/rounds/${encodeURIComponent(one.id)}`}>{at(one.at)}</Link>
              </th>
              <td>{one.areaName}</td>
              <td>{one.by}</td>
              <td>
                {one.countersigned ? (
                  words.tookBy(one.countersigned.by, at(one.countersigned.at))
                ) : (
                  <b>{words.notTaken}</b>
                )}
              </td>
              <td>{one.note}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
