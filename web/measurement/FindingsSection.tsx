import type { AnalyserMeasurement, MeasurementTrend } from '../../shared/contract/measurement.ts';
import { EvidencePicture } from '../alerts/EvidencePicture.tsx';
import { nowMs } from '../frame/clock.ts';
import { Section } from '../frame/Section.tsx';
import { useUnit, useZone } from '../frame/site.ts';
import { sentenceIn } from '../notation/sentence.ts';
import { moment } from '../notation/time.ts';
import { type Finding, instrumentFindings } from './findings.ts';
import { saysSomething, scanFindings } from './scanFindings.ts';

interface FindingsSectionProps {
  readonly measured: AnalyserMeasurement;
  readonly trend: MeasurementTrend | undefined;
  readonly spanText: string;
}

export function FindingsSection({ measured, trend, spanText }: FindingsSectionProps) {
  const unit = useUnit();
  const zone = useZone();
  const findings = instrumentFindings({
    measured,
    trend,
    unit,
    moment: (at) => moment(Date.parse(at), zone, nowMs()),
  });
  return (
    <>
      <Section className="sec" margin={<HowToRead spanText={spanText} />}>
        <h2>How well it measures</h2>
        <FindingTable findings={findings} spanText={spanText} />
      </Section>
      <Section className="sec" margin="of the last scan">
        <h2>What is not the chamber’s gas, and what cannot be told</h2>
        <ScanTable measured={measured} />
      </Section>
      {measured.life.length > 0 ? (
        <Section className="sec" margin="from the course of its days">
          <h2>What wears</h2>
          {measured.life.map(({ of, say, days }) => (
            <p key={of}>
              {say} <span className="note">{days} days</span>
            </p>
          ))}
        </Section>
      ) : null}
    </>
  );
}

function HowToRead({ spanText }: { readonly spanText: string }) {
  return (
    <>
      pale: where it stood
      <br />
      in {spanText}, 95 % of it
      <br />
      mark: what was found
      <br />
      line: its 95 % interval
    </>
  );
}

function FindingTable({ findings, spanText }: { readonly findings: readonly Finding[]; readonly spanText: string }) {
  const unit = useUnit();
  return (
    <table className="evtab findings">
      <thead>
        <tr>
          <th scope="col">What</th>
          <th scope="col">Found</th>
          <th scope="col">Usual here, {spanText}</th>
          <th scope="col">Found within usual</th>
          <th scope="col">So</th>
        </tr>
      </thead>
      <tbody>
        {findings.map(({ what, found, expected, drawing, so }) => (
          <tr key={what}>
            <th scope="row">{what}</th>
            <td className="num">{found}</td>
            <td className={expected === '—' ? 'num none' : 'num'}>{expected}</td>
            <td className={drawing ? 'picture channel' : 'picture'}>
              {drawing ? <EvidencePicture drawing={drawing} /> : null}
            </td>
            <td>
              <span className="so">{sentenceIn(so, unit)}</span>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function ScanTable({ measured }: { readonly measured: AnalyserMeasurement }) {
  const unit = useUnit();
  return (
    <table className="evtab inscan">
      <thead>
        <tr>
          <th scope="col">What</th>
          <th scope="col">Found</th>
          <th scope="col">So</th>
        </tr>
      </thead>
      <tbody>
        {scanFindings(measured, unit).map((finding) => (
          <tr key={finding.what}>
            <th scope="row">{finding.what}</th>
            <td className={saysSomething(finding) ? undefined : 'ink3'}>
              {finding.found.map((line) => (
                <div key={line}>{sentenceIn(line, unit)}</div>
              ))}
            </td>
            <td>
              <span className="so">{finding.so}</span>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
