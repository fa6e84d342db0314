import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { GasReading, LatestReading } from '../../shared/contract/readings.ts';
import type { PressureUnit } from '../../shared/units.ts';
import { latestQuestion } from '../api/questions.ts';
import { Age } from '../frame/Age.tsx';
import { Answered, isMissing } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { useUnit } from '../frame/site.ts';
import { gasSpoken, gasTitle } from '../notation/gas.ts';
import { plain } from '../notation/number.ts';
import { pressure, reportedPressure } from '../notation/pressure.ts';
import { capital, sentenceIn, several } from '../notation/sentence.ts';
import type { ChamberParts } from './parts.ts';

/** Partial pressures of the newest scan, each with its interval; then what the analyser can see at all. */
export function ReadingsSection({ chamber, address }: ChamberParts) {
  const question = useQuery(latestQuestion(chamber.id, address.analyser === '' ? null : address.analyser));
  return (
    <Section
      className="sec"
      margin={
        question.data ? (
          <>
            <p>
              <Age at={question.data.at} periodSeconds={chamber.scanPeriodSeconds} />
            </p>
            <p>in brackets: 95 % interval</p>
          </>
        ) : undefined
      }
    >
      <h2>Partial pressures</h2>
      {isMissing(question.error) ? (
        <p className="note">{(question.error as Error).message}</p>
      ) : (
        <Answered question={question} what="The readings">
          {(reading) => <Readings reading={reading} />}
        </Answered>
      )}
    </Section>
  );
}

function Readings({ reading }: { readonly reading: LatestReading }) {
  const unit = useUnit();
  const gases = Object.entries(reading.gases);
  const detected = gases.filter(([, gas]) => gas.detected).sort(([, a], [, b]) => (b.value ?? 0) - (a.value ?? 0));
  const undetected = gases.filter(([, gas]) => !gas.detected);
  return (
    <>
      <PressureList gases={detected} />
      {undetected.length > 0 ? (
        <details className="undetected">
          <summary>{several(undetected.length, 'gas', 'gases')} below detection, with what each is at most</summary>
          <PressureList gases={undetected} />
        </details>
      ) : null}
      <p className="facts">
        {sums(reading, unit).map((fact) => (
          <span key={fact}>{fact}</span>
        ))}
      </p>
      {reading.notes.length > 0 ? (
        <ul className="remarks">
          {reading.notes.map(({ code, text }) => (
            <li key={`${code} ${text}`}>
              {sentenceIn(capital(text), unit)}{' '}
              {namesAnalyser(text) ? (
                <Link className="note" href={`/measurement/${encodeURIComponent(reading.analyser)}`}>
                  how it measures
                </Link>
              ) : null}
            </li>
          ))}
        </ul>
      ) : null}
    </>
  );
}

/** A note about the analyser itself leads to its page. */
export const namesAnalyser = (text: string): boolean =>
  /analyser|κ|sensitivity|calibrat|multiplier|mass scale/i.test(text);

function PressureList({ gases }: { readonly gases: readonly (readonly [string, GasReading])[] }) {
  const unit = useUnit();
  return (
    <dl className="pressures">
      {gases.map(([id, gas]) => (
        <div key={id}>
          <dt>
            {gasTitle(id)}
            {gasSpoken(id) === gasTitle(id) ? null : <span className="note"> {gasSpoken(id)}</span>}
          </dt>
          <dd className={gas.detected ? undefined : 'ink3'}>{reportedPressure(gas, unit)}</dd>
        </div>
      ))}
    </dl>
  );
}

function sums({ total, floor, decades, unexplained }: LatestReading, unit: PressureUnit): string[] {
  return [
    total.gauge === null ? 'no gauge reading with this scan' : `gauge ${pressure(total.gauge, unit)}`,
    total.sum === null ? null : `sum of partial pressures ${pressure(total.sum, unit)}`,
    floor === null ? null : `smallest that would be seen ${pressure(floor, unit)} (N₂-equivalent, 3σ)`,
    decades === null ? null : `${decades.toFixed(1)} decades from the largest peak to the floor`,
    unexplained === null
      ? null
      : `${unexplained > 0 ? `${plain(unexplained * 100)} %` : 'none'} of the signal unexplained`,
  ].filter((fact): fact is string => fact !== null);
}
