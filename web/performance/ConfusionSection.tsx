import { useQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { Confusion } from '../../shared/contract/performance.ts';
import { confusionQuestion, type PerformanceAsked } from '../api/alarmQuestions.ts';
import { nowMs } from '../frame/clock.ts';
import { Answered } from '../frame/PageState.tsx';
import { Section } from '../frame/Section.tsx';
import { causeTitle, SIGNATURE_TITLE } from '../notation/words.ts';
import { words } from '../strings/performance.ts';

import { confusionTable, isRight } from './confusion.ts';
import { percent } from './words.ts';

/** How often the name that was given was what people found. */
export function ConfusionSection({ asked }: { readonly asked: PerformanceAsked }) {
  const question = useQuery(confusionQuestion({ area: asked.area, span: asked.span }, nowMs));
  return (
    <Section className="sec" margin={<HowToRead />} label={words.claimedAgainstFound}>
      <h2>{words.claimedAgainstFound}</h2>
      <Answered question={question} what={words.whatWasFound} lines={5}>
        {(confusion) => <TheConfusion confusion={confusion} />}
      </Answered>
    </Section>
  );
}

export function confusionSentence({ closed, verified, rightFirst }: Confusion): string {
  if (closed === 0) return words.noAlertWasClosed;
  if (verified === 0) {
    return words.closedAndNoneSays(closed);
  }
  const of = words.ofWhatWasFound(verified, closed);
  return rightFirst === null ? words.andInNone(of) : words.theNameWasRight(of, percent(rightFirst));
}

function TheConfusion({ confusion }: { readonly confusion: Confusion }) {
  const heard = confusion.sureness.filter(({ alerts }) => alerts > 0);
  return (
    <>
      <p className="say">{confusionSentence(confusion)}</p>
      {confusion.cells.length === 0 ? (
        <p className="note">{words.whoeverClosesAnAlertSays}</p>
      ) : (
        <ConfusionGrid confusion={confusion} />
      )}
      {heard.length === 0 ? null : (
        <>
          <h3>{words.doTheWords}</h3>
          <ul className="remarks">
            {heard.map(({ word, alerts, right }) => (
              <li key={word}>{words.wasSaidAndWasRight(word, alerts, right, percent(right / alerts))}</li>
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
    <section className="scrolls" aria-label={words.claimedAgainstFoundTable} tabIndex={0}>
      <table className="confusion">
        <thead>
          <tr>
            <th scope="col">{words.claimed}</th>
            {found.map((word) => (
              <th key={word} scope="col">
                {causeTitle(word)}
              </th>
            ))}
            <th scope="col">{words.right}</th>
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
              <td className="num">{words.rightOfAll(right, total)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** A cell leads to its alerts: one directly, several one by one. */
function CellLinks({ cell, right }: { readonly cell: Confusion['cells'][number]; readonly right: boolean }) {
  const said = words.claimedFound(causeTitle(cell.claimed), causeTitle(cell.verified));
  const [first] = cell.alerts;
  if (first !== undefined && cell.alerts.length === 1) {
    return (
      <Link href={`/alerts/${encodeURIComponent(first)}`}>
        {right ? words.rightOf(1) : 1}
        <span className="unseen">: {said}</span>
      </Link>
    );
  }
  return (
    <details>
      <summary>
        {right ? words.rightOf(cell.alerts.length) : cell.alerts.length}
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
      {words.rowWhatTheAlert}
      <br />
      {words.columnWhatPeopleFound}
      <br />
      {words.paleRightTheSame}
      <br />
      {words.aTrappedVolumeMakesAir}
    </>
  );
}
