import type { Consequence } from '../../shared/contract/rationalisation.ts';
import type { Priority } from '../../shared/contract/words.ts';
import { PRIORITY_WORD, SEVERITY_MEANING } from '../notation/words.ts';
import { COLUMN_TITLE, COLUMNS, columnOf, MATRIX, priorityByMatrix, SEVERITIES } from './matrix.ts';

interface MatrixTableProps {
  readonly severity: Consequence;
  /** Null: no time has been typed yet. */
  readonly minutes: number | null;
  readonly chosen: Priority;
}

/** Where severity and time meet, and whether the priority that is chosen is the one that follows. */
export function matrixSentence({ severity, minutes, chosen }: MatrixTableProps): string {
  if (minutes === null) return 'Without a time to respond no priority follows.';
  const follows = priorityByMatrix(severity, minutes);
  const where = `${severity}, ${COLUMN_TITLE[columnOf(minutes)]}`;
  return follows === chosen
    ? `By the matrix (${where}) the priority is ${PRIORITY_WORD[follows].toLowerCase()}, as chosen.`
    : `By the matrix (${where}) the priority is ${PRIORITY_WORD[follows].toLowerCase()}; ${PRIORITY_WORD[chosen].toLowerCase()} is chosen, and “why” must give the reason, with the word “priority”.`;
}

export function MatrixTable(props: MatrixTableProps) {
  const { severity, minutes } = props;
  const column = minutes === null ? null : columnOf(minutes);
  return (
    <>
      <p className="so-say matrix-says">{matrixSentence(props)}</p>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reached by keys */}
      <section className="scrolls" aria-label="The matrix of priorities" tabIndex={0}>
        <table className="matrix">
          <caption className="unseen">Priority from how bad it is and how much time there is</caption>
          <thead>
            <tr>
              <th scope="col">How bad</th>
              {COLUMNS.map((word) => (
                <th key={word} scope="col">
                  {COLUMN_TITLE[word]}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {SEVERITIES.map((row) => (
              <tr key={row}>
                <th scope="row">
                  {row} <span className="note">{SEVERITY_MEANING[row]}</span>
                </th>
                {COLUMNS.map((word) => {
                  const here = row === severity && word === column;
                  return (
                    <td key={word} className={here ? 'here' : undefined}>
                      {PRIORITY_WORD[MATRIX[row][word]]}
                      {here ? <span className="note"> this one</span> : null}
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </>
  );
}
