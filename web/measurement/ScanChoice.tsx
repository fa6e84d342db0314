import { useQuery } from '@tanstack/react-query';
import { useMemo, useState } from 'react';
import type { ScanLine } from '../../shared/contract/measurement.ts';
import { fromPascal } from '../../shared/units.ts';
import { MOST_SCANS, scansQuestion } from '../api/measurementQuestions.ts';
import { RANGE_SECONDS, type Range } from '../chamber/address.ts';
import { nowMs } from '../frame/clock.ts';
import { Answered } from '../frame/PageState.tsx';
import { useUnit, useZone } from '../frame/site.ts';
import { scientific } from '../notation/number.ts';
import { several } from '../notation/sentence.ts';
import { clockTimeSeconds, moment } from '../notation/time.ts';
import { words as all } from '../strings/calibration.ts';

const words = all.scanChoice;

interface ScanChoiceProps {
  readonly analyser: string;
  readonly from: number | null;
  readonly to: number | null;
  readonly choose: (end: 'from' | 'to', at: number) => void;
}

const BACK: readonly (readonly [Range, string])[] = [
  ['8h', '8 h'],
  ['30h', '30 h'],
  ['7d', '7 d'],
];

/** Is a scan within the period that is being marked? Both ends belong to it. */
export const isMarked = ({ at }: Pick<ScanLine, 'at'>, from: number | null, to: number | null): boolean =>
  from !== null && to !== null && Date.parse(at) >= from && Date.parse(at) <= to;

/** The scans that a period would take, to be chosen by its first and its last. */
export function ScanChoice({ analyser, from, to, choose }: ScanChoiceProps) {
  const [back, setBack] = useState<Range>('8h');
  const span = useMemo(() => {
    const now = nowMs();
    return { from: now - RANGE_SECONDS[back] * 1000, to: now };
  }, [back]);
  const question = useQuery(scansQuestion(analyser, span));
  return (
    <div className="scan-choice">
      <div className="ph">
        <span>{words.scansOfTheLast}</span>
        <fieldset className="opt">
          <legend className="unseen">{words.howFarBack}</legend>
          {BACK.map(([range, text]) => (
            <button key={range} type="button" aria-pressed={back === range} onClick={() => setBack(range)}>
              {text}
            </button>
          ))}
        </fieldset>
      </div>
      <Answered question={question} what={words.theScans} lines={4}>
        {({ scans }) =>
          scans.length === 0 ? (
            <p className="note">{words.noScanCameIn}</p>
          ) : (
            <ScanTable scans={scans} from={from} to={to} choose={choose} />
          )
        }
      </Answered>
    </div>
  );
}

interface ScanTableProps extends Omit<ScanChoiceProps, 'analyser'> {
  readonly scans: readonly ScanLine[];
}

function ScanTable({ scans, from, to, choose }: ScanTableProps) {
  const unit = useUnit();
  const zone = useZone();
  const marked = scans.filter((scan) => isMarked(scan, from, to)).length;
  const number = (value: number | null) => (value === null ? words.notMeasured : scientific(fromPascal(value, unit)));
  return (
    <>
      <p className="note" aria-live="polite">
        {words.ofLieInThe(
          several(marked, 'scan'),
          scans.length,
          scans.length >= MOST_SCANS ? words.onlyTheNewestAre(MOST_SCANS) : '',
        )}
      </p>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls in itself and must be reachable by keyboard */}
      <section className="trend-table scans" tabIndex={0} aria-label={words.scans}>
        <table>
          <thead>
            <tr>
              <th scope="col">{words.scan}</th>
              <th scope="col">{words.state}</th>
              <th scope="col">{words.gauge(unit)}</th>
              <th scope="col">{words.sum(unit)}</th>
              <th scope="col">{words.period}</th>
            </tr>
          </thead>
          <tbody>
            {scans.map((scan) => {
              const at = Date.parse(scan.at);
              const day = moment(at, zone, nowMs()).replace(/\S+$/, '');
              const time = `${day}${clockTimeSeconds(at, zone)}`;
              return (
                <tr key={scan.id} className={isMarked(scan, from, to) ? 'marked' : undefined}>
                  <th scope="row">{time}</th>
                  <td>{scan.state ?? words.notReported}</td>
                  <td className="num">{number(scan.gauge)}</td>
                  <td className="num">{number(scan.sum)}</td>
                  <td className="num">
                    <button type="button" className="quiet" onClick={() => choose('from', at)}>
                      {words.first}
                      <span className="unseen"> {words.scanIsThatOf(time)}</span>
                    </button>{' '}
                    <button type="button" className="quiet" onClick={() => choose('to', at)}>
                      {words.last}
                      <span className="unseen"> {words.scanIsThatOf(time)}</span>
                    </button>
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </section>
    </>
  );
}
