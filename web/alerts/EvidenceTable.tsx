import type { Evidence } from '../../shared/contract/alerts.ts';
import { useUnit } from '../frame/site.ts';
import { sentenceIn } from '../notation/sentence.ts';
import { EvidencePicture } from './EvidencePicture.tsx';
import { drawEvidence } from './evidenceScale.ts';
import { expectedText, foundText } from './found.ts';

/** What was found, beside what was expected, and what follows. */
export function EvidenceTable({ evidence }: { readonly evidence: readonly Evidence[] }) {
  if (evidence.length === 0)
    return <p className="note">This alert carries no numbers: its sentence is all there is.</p>;
  return (
    <table className="evtab">
      <thead>
        <tr>
          <th scope="col">What</th>
          <th scope="col">Found</th>
          <th scope="col">Expected</th>
          <th scope="col">Found within expected</th>
          <th scope="col">So</th>
        </tr>
      </thead>
      <tbody>
        {evidence.map((line) => (
          <EvidenceRow key={line.name} line={line} />
        ))}
      </tbody>
    </table>
  );
}

function EvidenceRow({ line }: { readonly line: Evidence }) {
  const unit = useUnit();
  const found = foundText(line, unit);
  const drawing = drawEvidence(line);
  return (
    <tr>
      <th scope="row">{sentenceIn(line.name, unit)}</th>
      <td className="num">
        {found.number} {found.unit ? <span className="note">{found.unit}</span> : null}
      </td>
      <td className="num">{sentenceIn(expectedText(line, unit), unit)}</td>
      <td className={drawing ? 'picture channel' : 'picture'}>
        {drawing ? <EvidencePicture drawing={drawing} /> : null}
      </td>
      <td>
        <span className="so">{sentenceIn(line.verdict, unit)}</span>
      </td>
    </tr>
  );
}

export function HowToReadEvidence() {
  return (
    <>
      pale: what was expected
      <br />
      mark: what was found
      <br />
      line: its 95 % interval
      <br />
      arrow: at most this
    </>
  );
}
