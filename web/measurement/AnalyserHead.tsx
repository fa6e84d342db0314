import { Link } from 'wouter';
import type { AnalyserMeasurement } from '../../shared/contract/measurement.ts';
import type { PressureUnit } from '../../shared/units.ts';
import { Age } from '../frame/Age.tsx';
import { nowMs } from '../frame/clock.ts';
import { Key } from '../frame/Key.tsx';
import { Head } from '../frame/Section.tsx';
import { Sentence } from '../frame/Sentence.tsx';
import { useUnit } from '../frame/site.ts';
import { isOld } from '../notation/age.ts';
import { plain } from '../notation/number.ts';
import { NBSP, pressure } from '../notation/pressure.ts';
import { capital, sentenceIn } from '../notation/sentence.ts';
import { words as all } from '../strings/analyser.ts';
import { Rich } from '../strings/Rich.tsx';

const words = all.analyserHead;

interface AnalyserHeadProps {
  readonly measured: AnalyserMeasurement;
  readonly areaName: string;
  readonly others: readonly string[];
}

/** The answer about one analyser, when nobody needs to look. */
export function verdictOf(measured: AnalyserMeasurement, unit: PressureUnit, stale = false): string {
  const { at, remark, floor, decades, kappa } = measured;
  if (at === null) return words.nothingCanBeSaid;
  if (remark !== null) return sentenceIn(remark, unit);
  if (stale) return words.howThisAnalyserMeasures;
  const sees = floor === null ? '' : words.itSeesDownTo(pressure(floor, unit));
  const range = floor === null || decades === null ? '' : words.decadesBelowItsLargest(decades.toFixed(1));
  const gauge = kappa?.now ? words.theGaugeReadsTimes(plain(kappa.now)) : '';
  return words.nothingSpeaksAgainstThis(sees, range, sees ? '.' : '', gauge);
}

export function AnalyserHead({ measured, areaName, others }: AnalyserHeadProps) {
  const unit = useUnit();
  const { at, remark, state, detector, massRange, scanPeriodSeconds } = measured;
  const stale = at !== null && isOld((nowMs() - Date.parse(at)) / 1000, scanPeriodSeconds);
  const facts = [
    areaName,
    measured.principle,
    massRange ? `${massRange[0]}–${massRange[1]}${NBSP}u` : null,
    detector,
    state,
  ].filter((fact) => fact !== null);
  const chamber = encodeURIComponent(measured.chamber);
  const analyser = encodeURIComponent(measured.analyser);
  return (
    <Head
      margin={
        <>
          {words.measurement}
          <br />
          <b>
            {at === null
              ? words.noScanYet
              : remark !== null
                ? words.needsALook
                : stale
                  ? words.silent
                  : words.nothingAgainstIt}
          </b>
        </>
      }
    >
      <div className="where">
        <b className="code">{measured.analyser}</b>
        <span className="note">
          <Rich
            text={words.on(facts.join(' · '))}
            parts={{
              link: () => <Link href={`/chambers/${chamber}?analyser=${analyser}`}>{measured.chamberName}</Link>,
            }}
          />{' '}
          <Age at={at} periodSeconds={scanPeriodSeconds} prefix={at === null ? '' : 'scan '} />
        </span>
      </div>
      <h1 className="verdict">{verdictOf(measured, unit, stale)}</h1>
      {stale ? (
        <div className="bar cut">
          <span>
            <b>
              <Rich text={words.theLastScanIs} parts={{ age: () => <Age at={at} bare /> }} />
            </b>{' '}
            {words.whatFollowsIsHow}
          </span>
        </div>
      ) : null}
      {measured.notes.length > 0 ? (
        <ul className="remarks">
          {measured.notes.map(({ code, text }) => (
            <li key={`${code} ${text}`}>
              <Sentence text={capital(text)} />
            </li>
          ))}
        </ul>
      ) : null}
      <div className="does">
        <Link className="btn" href="/measurement">
          {words.allAnalysers} <Key name={words.esc} />
        </Link>
        <Link className="btn" href={`/chambers/${chamber}?analyser=${analyser}`}>
          {words.theChamber}
        </Link>
        {others.map((other) => (
          <Link
            key={other}
            className="btn"
            href={`/compare?chamber=${chamber}&first=${analyser}&second=${encodeURIComponent(other)}`}
          >
            {words.compareWith(other)}
          </Link>
        ))}
      </div>
    </Head>
  );
}
