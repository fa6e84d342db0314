import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { Confusion } from '../../shared/contract/performance.ts';
import { confusionQuestion, type PerformanceAsked } from '../api/alarmQuestions.ts';
import { nowMs } from '../frame/clock.ts';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { several } from '../notation/sentence.ts';
import { causeTitle, SIGNATURE_TITLE } from '../notation/words.ts';
import { confusionTable, isRight } from './confusion.ts';
import { percent } from './words.ts';

/** How often the name that was given was what people found. */
export function ConfusionSection({ asked }: { readonly asked: PerformanceAsked }) {
  const question = useQuery(confusionQuestion({ area: asked.area, span: asked.span }, nowMs));
  return (
    <Section className="sec" margin={<HowToRead />} label="Claimed against found">
      <h2>Claimed against found</h2>
      <Answered question={question} what="What was found" lines={5}>
        {(confusion) => <TheConfusion confusion={confusion} />}
      </Answered>
    </Section>
  );
}

export function confusionSentence({ closed, verified, rightFirst }: Confusion): string {
  if (closed === 0) return 'No alert was closed in this span.';
  if (verified === 0) {
    return `${several(closed, 'alert')} closed, and none says what was found: the names cannot be judged.`;
  }
  const of = `${verified} of ${several(closed, 'closed alert')} ${verified === 1 ? 'says' : 'say'} what was found`;
  return rightFirst === null
    ? `${of}, and in none could it be told.`
    : `${of}; the name was right in ${percent(rightFirst)}.`;
}

function TheConfusion({ confusion }: { readonly confusion: Confusion }) {
  const words = confusion.sureness.filter(({ alerts }) => alerts > 0);
  return (
    <>
      <p className="say">{confusionSentence(confusion)}</p>
      {confusion.cells.length === 0 ? (
        <p className="note">
          Whoever closes an alert says what was found. From then on the claim and the finding stand here side by side.
        </p>
      ) : (
        <ConfusionGrid confusion={confusion} />
      )}
      {words.length === 0 ? null : (
        <>
          <h3>Do the words for how sure keep their promise?</h3>
          <ul className="remarks">
            {words.map(({ word, alerts, right }) => (
              <li key={word}>
                “{word}” was said {alerts === 1 ? 'once' : several(alerts, 'time')} and was right{' '}
                {right === 0 ? 'never' : right === 1 ? 'once' : several(right, 'time')} ({percent(right / alerts)}).
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}

function ConfusionGrid({ confusion }: { readonly confusion: Confusion }) {
  const { found, rows } = confusionTable(confusion);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reached by keys
    <section className="scrolls" aria-label="Claimed against found, as a table" tabIndex={0}>
      <table className="confusion">
        <thead>
          <tr>
            <th scope="col">Claimed</th>
            {found.map((word) => (
              <th key={word} scope="col">
                {causeTitle(word)}
              </th>
            ))}
            <th scope="col">Right</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ claimed, cells, total, right }) => (
            <tr key={claimed}>
              <th scope="row">{SIGNATURE_TITLE[claimed]}</th>
              {cells.map((cell, i) => (
                <td key={found[i]} className={isRight(claimed, found[i] ?? '') ? 'agrees' : undefined}>
                  {cell === null ? (
                    <span className="ink3">–</span>
                  ) : (
                    <CellLinks cell={cell} right={isRight(claimed, cell.verified)} />
                  )}
                </td>
              ))}
              <td className="num">
                {right} of {total}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** A cell leads to its alerts: one directly, several one by one. */
function CellLinks({ cell, right }: { readonly cell: Confusion['cells'][number]; readonly right: boolean }) {
  const said = `${causeTitle(cell.claimed)} claimed, ${causeTitle(cell.verified)} found`;
  const [first] = cell.alerts;
  if (first !== undefined && cell.alerts.length === 1) {
    return (
      <Link href={`/alerts/${encodeURIComponent(first)}`}>
        1{right ? ' right' : ''}
        <span className="unseen">: {said}</span>
      </Link>
    );
  }
  return (
    <details>
      <summary>
        {cell.alerts.length}
        {right ? ' right' : ''}
        <span className="unseen">: {said}</span>
      </summary>
      <ul>
        {cell.alerts.map((id) => (
          <li key={id}>
            <Link className="code" href={`/alerts/${encodeURIComponent(id)}`}>
              {id}
            </Link>
          </li>
        ))}
      </ul>
    </details>
  );
}

function HowToRead() {
  return (
    <>
      row: what the alert was called
      <br />
      column: what people found
      <br />
      pale, “right”: the same
      <br />a trapped volume makes “air” and “gas from a line” right
    </>
  );
}
