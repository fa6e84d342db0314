import type { Evidence } from '../../shared/contract/alerts.ts';
import type { PressureUnit } from '../../shared/contract/words.ts';
import { useUnit } from '../frame/site.ts';
import { sentenceIn } from '../notation/sentence.ts';
import { words } from '../strings/evidence.ts';
import { EvidencePicture } from './EvidencePicture.tsx';
import { drawEvidence } from './evidenceScale.ts';
import { expectedText, foundText } from './found.ts';

/** What was found, beside what was expected, and what follows. */
interface EvidenceTableProps {
  readonly evidence: readonly Evidence[];
  /** Of a document that has a unit of its own; absent: the reader's. */
  readonly unit?: PressureUnit;
}

export function EvidenceTable({ evidence, unit }: EvidenceTableProps) {
  const own = useUnit();
  if (evidence.length === 0) return <p className="note">{words.noNumbers}</p>;
  const weighed = evidence.filter(isWeighing);
  const found = evidence.filter((line) => !isWeighing(line));
  return (
    <>
      {found.length > 0 ? <Lines lines={found} unit={unit ?? own} /> : null}
      {weighed.length > 0 ? (
        <details className="undetected weighed">
          <summary>{words.weighed}</summary>
          <Lines lines={weighed} unit={unit ?? own} />
        </details>
      ) : null}
    </>
  );
}

/** How the watch weighed its causes is for engineers: it stands apart from what was measured. */
export const isWeighing = ({ name }: Evidence): boolean => /natural log|χ² per peak/.test(name);

function Lines({ lines, unit }: { readonly lines: readonly Evidence[]; readonly unit: PressureUnit }) {
  return (
    <table className="evtab">
      <thead>
        <tr>
          <th scope="col">{words.what}</th>
          <th scope="col">{words.found}</th>
          <th scope="col">{words.expected}</th>
          <th scope="col" className="picture">
            {words.foundWithin}
          </th>
          <th scope="col">{words.so}</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <EvidenceRow key={line.name} line={line} unit={unit} />
        ))}
      </tbody>
    </table>
  );
}

function EvidenceRow({ line, unit }: { readonly line: Evidence; readonly unit: PressureUnit }) {
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

/** On paper there is no room for the pictures, so nothing is left to be explained. */
export function HowToReadEvidence() {
  return words.howToRead.map((line) => (
    <p key={line} className="of-screen">
      {line}
    </p>
  ));
}
