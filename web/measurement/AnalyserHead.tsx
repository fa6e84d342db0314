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

interface AnalyserHeadProps {
  readonly measured: AnalyserMeasurement;
  readonly areaName: string;
  readonly others: readonly string[];
}

/** The answer about one analyser, when nobody needs to look. */
export function verdictOf(measured: AnalyserMeasurement, unit: PressureUnit, stale = false): string {
  const { at, remark, floor, decades, kappa } = measured;
  if (at === null) return 'Nothing can be said yet: no scan has come from this analyser.';
  if (remark !== null) return sentenceIn(remark, unit);
  if (stale) return 'How this analyser measures now cannot be told: it has been silent for a while.';
  const sees = floor === null ? '' : ` It sees down to ${pressure(floor, unit)}`;
  const range = floor === null || decades === null ? '' : `, ${decades.toFixed(1)} decades below its largest peak`;
  const gauge = kappa?.now ? ` The gauge reads ${plain(kappa.now)} times its sum.` : '';
  return `Nothing speaks against this analyser.${sees}${range}${sees ? '.' : ''}${gauge}`;
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
          Measurement
          <br />
          <b>
            {at === null ? 'no scan yet' : remark !== null ? 'needs a look' : stale ? 'silent' : 'nothing against it'}
          </b>
        </>
      }
    >
      <div className="where">
        <b className="code">{measured.analyser}</b>
        <span className="note">
          on <Link href={`/chambers/${chamber}?analyser=${analyser}`}>{measured.chamberName}</Link> ·{' '}
          {facts.join(' · ')} · <Age at={at} periodSeconds={scanPeriodSeconds} prefix={at === null ? '' : 'scan '} />
        </span>
      </div>
      <h1 className="verdict">{verdictOf(measured, unit, stale)}</h1>
      {stale ? (
        <div className="bar cut">
          <span>
            <b>
              The last scan is <Age at={at} bare /> old.
            </b>{' '}
            What follows is how the analyser measured then.
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
          All analysers <Key name="Esc" />
        </Link>
        <Link className="btn" href={`/chambers/${chamber}?analyser=${analyser}`}>
          The chamber
        </Link>
        {others.map((other) => (
          <Link
            key={other}
            className="btn"
            href={`/compare?chamber=${chamber}&first=${analyser}&second=${encodeURIComponent(other)}`}
          >
            Compare with {other}
          </Link>
        ))}
      </div>
    </Head>
  );
}
