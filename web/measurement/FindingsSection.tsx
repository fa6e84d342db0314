import type { AnalyserMeasurement, MeasurementTrend } from '../../shared/contract/measurement.ts';
import { EvidencePicture } from '../alerts/EvidencePicture.tsx';
import { nowMs } from '../frame/clock.ts';
import { Section } from '../frame/Section.tsx';
import { useUnit, useZone } from '../frame/site.ts';
import { sentenceIn } from '../notation/sentence.ts';
import { moment } from '../notation/time.ts';
import { words as all } from '../strings/analyser.ts';
import { Rich } from '../strings/Rich.tsx';
import { type Finding, instrumentFindings } from './findings.ts';
import { saysSomething, scanFindings } from './scanFindings.ts';

const words = all.findingsSection;

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
        <h2>{words.howWellItMeasures}</h2>
        <FindingTable findings={findings} spanText={spanText} />
      </Section>
      <Section className="sec" margin={words.ofTheLastScan}>
        <h2>{words.whatIsNotThe}</h2>
        <ScanTable measured={measured} />
      </Section>
      {measured.life.length > 0 ? (
        <Section className="sec" margin={words.fromTheCourseOf}>
          <h2>{words.whatWears}</h2>
          {measured.life.map(({ of, say, days }) => (
            <p key={of}>
              {say} <span className="note">{words.days(days)}</span>
            </p>
          ))}
        </Section>
      ) : null}
    </>
  );
}

function HowToRead({ spanText }: { readonly spanText: string }) {
  return <Rich text={words.paleWhereItStood(spanText)} parts={{ br: () => <br /> }} />;
}

function FindingTable({ findings, spanText }: { readonly findings: readonly Finding[]; readonly spanText: string }) {
  const unit = useUnit();
  return (
    <table className="evtab findings">
      <thead>
        <tr>
          <th scope="col">{words.what}</th>
          <th scope="col">{words.found}</th>
          <th scope="col">{words.usualHere(spanText)}</th>
          <th scope="col" className="picture">
            {words.foundWithinUsual}
          </th>
          <th scope="col">{words.so}</th>
        </tr>
      </thead>
      <tbody>
        {findings.map(({ what, found, expected, drawing, so }) => (
          <tr key={what}>
            <th scope="row">{what}</th>
            <td className="num">{found}</td>
            <td className={expected === '—' ? 'num none' : 'num'} data-name={words.usualHere(spanText)}>
              {expected}
            </td>
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
          <th scope="col">{words.what}</th>
          <th scope="col">{words.found}</th>
          <th scope="col">{words.so}</th>
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
