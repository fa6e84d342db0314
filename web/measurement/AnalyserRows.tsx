import type { ReactNode } from 'react';
import { Link } from 'wouter';
import type { MeasurementLine } from '../../shared/contract/measurement.ts';
import { EvidencePicture } from '../alerts/EvidencePicture.tsx';
import { drawEvidence } from '../alerts/evidenceScale.ts';
import { Age } from '../frame/Age.tsx';
import { nowMs, useNow } from '../frame/clock.ts';
import { Sentence } from '../frame/Sentence.tsx';
import { useUnit } from '../frame/site.ts';
import { isOld } from '../notation/age.ts';
import { ageSaid, daysSince } from '../notation/counted.ts';
import { brief, plain } from '../notation/number.ts';
import { NBSP, pressure } from '../notation/pressure.ts';
import { words as all } from '../strings/measurementList.ts';
import { mass, offset } from './quantities.ts';

const words = all.analyserRows;

interface AnalyserRowsProps {
  readonly lines: readonly MeasurementLine[];
  readonly multiple: number;
  readonly selected: string | null;
  readonly periods: Periods;
}

/** How often each chamber is scanned: an age is old only beside that. */
export type Periods = ReadonlyMap<string, number | null>;

export const pathOf = (line: MeasurementLine): string => `/measurement/${encodeURIComponent(line.analyser)}`;

/** Analysers of one area, line by line; a sentence stands over the numbers of those that need a look. */
export function AnalyserRows({ lines, multiple, selected, periods }: AnalyserRowsProps) {
  return (
    <table className="analysers">
      <thead>
        <tr>
          <th scope="col">{words.analyser}</th>
          <th scope="col">{words.floor(brief(multiple))}</th>
          <th scope="col">{words.decades}</th>
          <th scope="col">{words.nowUsual}</th>
          <th scope="col">{words.withinItsUsual}</th>
          <th scope="col">{words.massScale}</th>
          <th scope="col">{words.width}</th>
          <th scope="col">{words.gain}</th>
          <th scope="col">{words.calibrated}</th>
        </tr>
      </thead>
      {lines.map((line) => (
        <AnalyserRow
          key={line.analyser}
          line={line}
          period={periods.get(line.chamber) ?? null}
          selected={line.analyser === selected}
        />
      ))}
    </table>
  );
}

interface AnalyserRowProps {
  readonly line: MeasurementLine;
  readonly period: number | null;
  readonly selected: boolean;
}

function AnalyserRow({ line, period, selected }: AnalyserRowProps) {
  const body = (element: HTMLElement | null) => {
    if (selected) element?.scrollIntoView({ block: 'nearest' });
  };
  const now = useNow(15);
  const isStale = line.at !== null && isOld((now - Date.parse(line.at)) / 1000, period);
  const classes = [selected ? 'sel' : '', isStale ? 'stale' : ''].filter((one) => one !== '');
  return (
    <tbody ref={body} className={classes.length > 0 ? classes.join(' ') : undefined}>
      {line.remark === null ? (
        <tr>
          <Who line={line} period={period} />
          <Numbers line={line} />
        </tr>
      ) : (
        <>
          <tr className="remark">
            <Who line={line} period={period} rows={2} />
            <td colSpan={8}>
              <span className="say">
                <Sentence text={line.remark} />
              </span>
            </td>
          </tr>
          <tr>
            <Numbers line={line} />
          </tr>
        </>
      )}
    </tbody>
  );
}

interface WhoProps {
  readonly line: MeasurementLine;
  readonly period: number | null;
  readonly rows?: number;
}

function Who({ line, period, rows = 1 }: WhoProps) {
  return (
    <th scope="row" rowSpan={rows}>
      <Link href={pathOf(line)}>{line.chamberName}</Link>
      <span className="note">
        <span className="code">{line.analyser}</span>
        {line.principle === 'quadrupole' ? '' : `, ${line.principle}`} · <Age at={line.at} periodSeconds={period} />
      </span>
    </th>
  );
}

function Numbers({ line }: { readonly line: MeasurementLine }) {
  const unit = useUnit();
  const { kappa, gain, calibrationAgeDays } = line;
  if (line.at === null) {
    return (
      <td colSpan={8} className="ink3">
        {words.nothingMeasuredYetIts}
      </td>
    );
  }
  const drawing = kappa ? drawEvidence({ value: kappa.now, expectedLow: kappa.low, expectedHigh: kappa.high }) : null;
  return (
    <>
      <Cell name={words.floorAgain}>{pressure(line.floor, unit)}</Cell>
      <Cell name={words.decades}>{line.decades === null ? null : line.decades.toFixed(1)}</Cell>
      <Cell name={words.nowUsual}>
        {kappa === null || kappa.now === null
          ? null
          : `${plain(kappa.now)}${kappa.usual === null ? '' : ` (${plain(kappa.usual)})`}`}
      </Cell>
      <td className={drawing ? 'picture channel' : 'picture'}>
        {drawing ? <EvidencePicture drawing={drawing} scale={KAPPA_SCALE} /> : null}
      </td>
      <Cell name={words.massScale}>{line.massOffset === null ? null : offset(line.massOffset)}</Cell>
      <Cell name={words.width}>{line.width === null ? null : `${mass(line.width)}${NBSP}u`}</Cell>
      <Cell name={words.gain}>
        {gain === null ? null : (
          <>
            {plain(gain.value)}
            <span className="note">
              {gain.at === null ? words.onRecord : ` ${ageSaid(daysSince(gain.at, nowMs()))}`}
            </span>
          </>
        )}
      </Cell>
      <Cell name={words.calibrated}>
        {calibrationAgeDays === null ? (
          <span className="note">{words.fleetDocumentOnly}</span>
        ) : (
          ageSaid(calibrationAgeDays)
        )}
      </Cell>
    </>
  );
}

/** The picture of a line is smaller than that of a piece of evidence. */
const KAPPA_SCALE = 0.6;

/** An empty cell never stands for "not measured". */
function Cell({ name, children }: { readonly name: string; readonly children: ReactNode }) {
  return (
    <td className="num" data-name={name}>
      {children ?? <span className="note">{words.notMeasured}</span>}
    </td>
  );
}
