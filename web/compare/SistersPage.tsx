import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { Sisters } from '../../shared/contract/sisters.ts';
import { OPERATING_STATES } from '../../shared/contract/words.ts';
import { sistersQuestion } from '../api/compareQuestions.ts';
import { useNow } from '../frame/clock.ts';
import { Answered } from '../frame/PageState.tsx';
import { Head, Section } from '../frame/Section.tsx';
import { useUnit } from '../frame/site.ts';
import { ago } from '../notation/age.ts';
import { counted } from '../notation/counted.ts';
import { gasTitle } from '../notation/gas.ts';
import { pressure } from '../notation/pressure.ts';
import { capital } from '../notation/sentence.ts';
import { words } from '../strings/compare.ts';
import type { OneChamberProps } from './BeforePage.tsx';
import { FewSisters, HowToReadFew } from './FewSisters.tsx';
import { ChamberChoice, ModeChoice } from './ModeChoice.tsx';
import { NoSisters } from './NoSisters.tsx';
import { SisterKeys } from './SisterParts.tsx';
import { SistersTable } from './SistersTable.tsx';
import { amountOf, isNobodys, sistersSentence } from './sisterWords.ts';

/** One chamber among chambers of its kind in the same state: the odd one shows. */
export function SistersPage({ address, change, mode, choose, chamber, chambers }: OneChamberProps) {
  const question = useQuery(sistersQuestion(chamber.id, address.state || null));
  const answer = question.data;
  return (
    <>
      <Head
        margin={
          <>
            {words.margin}
            <br />
            <b>{words.modeMargin.sisters}</b>
            {answer?.kind ? <p>{words.kindMargin(answer.kind)}</p> : null}
          </>
        }
      >
        <ModeChoice mode={mode} choose={choose} />
        <div className="where">
          <b>{chamber.name}</b>
          <span className="note">
            <Link href={`/chambers/${encodeURIComponent(chamber.id)}`}>{words.toChamber}</Link>
            {answer?.kind && answer.state && answer.sisters.length > 0
              ? ` · ${words.amongIn(answer.sisters.length, answer.kind, answer.state)} · ${words.lastHours(answer.hours)}`
              : ''}
          </span>
        </div>
        <h1 className="verdict">{answer ? sistersSentence(answer, chamber.name) : words.mode.sisters}</h1>
        {answer ? <Teaches answer={answer} /> : null}
      </Head>
      <Section>
        <div className="tools unfolded compare-tools">
          <ChamberChoice chamber={chamber} chambers={chambers} change={change} />
          <label>
            {words.state}{' '}
            <select value={address.state} onChange={(event) => change({ state: event.target.value })}>
              <option value="">{words.presentState(chamber.state ?? words.noState)}</option>
              {OPERATING_STATES.map((state) => (
                <option key={state} value={state}>
                  {state}
                </option>
              ))}
            </select>
          </label>
        </div>
      </Section>
      <Section className="sec last" margin={answer ? MARGIN[amountOf(answer)] : null}>
        <Answered question={question} what={words.theComparison} lines={8}>
          {(found) => {
            const amount = amountOf(found);
            if (amount === 'none') return <NoSisters chambers={chambers} least={found.least} />;
            return (
              <>
                <h2>{words.gasByGas}</h2>
                {amount === 'few' ? <FewSisters answer={found} /> : <Table answer={found} />}
              </>
            );
          }}
        </Answered>
      </Section>
    </>
  );
}

function Table({ answer }: { readonly answer: Sisters }) {
  return (
    <>
      <SistersTable answer={answer} />
      <SisterBySister answer={answer} />
    </>
  );
}

function Teaches({ answer }: { readonly answer: Sisters }) {
  const { verdict, least, sisters, absent } = answer;
  const told =
    verdict.word === 'too few' && sisters.length > 0 && sisters.length < least
      ? [words.missingSisters(capital(counted(least - sisters.length)), least - sisters.length), words.needs(least)]
      : [];
  const missing = absent.length > 0 ? [words.absent(words.list(absent.map(({ name }) => name)))] : [];
  return [...told, ...missing].map((text) => (
    <p key={text} className="note beneath">
      {text}
    </p>
  ));
}

/** The numbers behind the thin marks. */
function SisterBySister({ answer }: { readonly answer: Sisters }) {
  const unit = useUnit();
  const now = useNow(30);
  const { sisters } = answer;
  const gases = answer.gases.filter((gas) => !isNobodys(gas));
  if (sisters.length === 0) return null;
  return (
    <details className="undetected">
      <summary>{words.sisterBySister}</summary>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls in itself and must be reachable by keyboard */}
      <section className="trend-table" aria-label={words.sisterBySister} tabIndex={0}>
        <table className="evtab each">
          <thead>
            <tr>
              <th scope="col">{words.chamber}</th>
              {gases.map(({ gas }) => (
                <th key={gas} scope="col">
                  {gasTitle(gas)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {sisters.map(({ id, name, at, scans }) => (
              <tr key={id}>
                <th scope="row">
                  <Link href={`/chambers/${encodeURIComponent(id)}`}>{name}</Link>
                  <span className="note"> {words.ageAndScans(ago((now - Date.parse(at)) / 1000), scans)}</span>
                </th>
                {gases.map(({ gas, marks }) => {
                  const value = marks.find(({ chamber }) => chamber === id)?.value ?? null;
                  return (
                    <td key={gas} className="num">
                      {value === null ? words.notSeen : pressure(value, unit)}
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </details>
  );
}

function HowToRead() {
  return (
    <>
      <ul className="lg">
        <SisterKeys />
        <li>
          {words.sistersLegend.usual}
          <svg width="12" height="14" aria-hidden="true">
            <rect className="ld-bed" y="1" width="12" height="12" />
          </svg>
        </li>
      </ul>
      <p>{words.zMeans}</p>
      <p>{words.hatched}</p>
    </>
  );
}

const MARGIN = { none: null, few: <HowToReadFew />, enough: <HowToRead /> };
