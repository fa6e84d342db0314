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
import { capital, sentenceIn } from '../notation/sentence.ts';
import { words } from '../strings/chamber.ts';
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
            <p>{words.inBracketsInterval}</p>
          </>
        ) : undefined
      }
    >
      <h2>{words.partialPressures}</h2>
      {isMissing(question.error) ? (
        <p className="note">{(question.error as Error).message}</p>
      ) : (
        <Answered question={question} what={words.theReadings}>
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
          <summary>{words.gasesBelowDetection(undetected.length)}</summary>
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
                  {words.howItMeasures}
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
    total.gauge === null ? words.noGaugeReading : words.gauge(pressure(total.gauge, unit)),
    total.sum === null ? null : words.sumOfPartialPressures(pressure(total.sum, unit)),
    floor === null ? null : words.smallestThatWouldBeSeen(pressure(floor, unit)),
    decades === null ? null : words.decadesFromTheLargestPeak(decades.toFixed(1)),
    unexplained === null
      ? null
      : unexplained > 0
        ? words.ofTheSignalUnexplained(plain(unexplained * 100))
        : words.nothingUnexplained,
  ].filter((fact): fact is string => fact !== null);
}
