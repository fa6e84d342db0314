import type { Consequence } from '../../shared/contract/rationalisation.ts';
import type { Priority } from '../../shared/contract/words.ts';
import { PRIORITY_WORD, SEVERITY_MEANING } from '../notation/words.ts';
import { words } from '../strings/rationalisation.ts';

import { COLUMN_TITLE, COLUMNS, columnOf, MATRIX, priorityByMatrix, SEVERITIES } from './matrix.ts';

interface MatrixTableProps {
  readonly severity: Consequence;
  /** Null: no time has been typed yet. */
  readonly minutes: number | null;
  readonly chosen: Priority;
}

/** Where severity and time meet, and whether the priority that is chosen is the one that follows. */
export function matrixSentence({ severity, minutes, chosen }: MatrixTableProps): string {
  if (minutes === null) return words.withoutATimeToRespond;
  const follows = priorityByMatrix(severity, minutes);
  const where = `${severity}, ${COLUMN_TITLE[columnOf(minutes)]}`;
  return follows === chosen
    ? words.asTheMatrixSays(where, PRIORITY_WORD[follows].toLowerCase())
    : words.againstTheMatrix(where, PRIORITY_WORD[follows].toLowerCase(), PRIORITY_WORD[chosen].toLowerCase());
}

export function MatrixTable(props: MatrixTableProps) {
  const { severity, minutes } = props;
  const column = minutes === null ? null : columnOf(minutes);
  return (
    <>
      <p className="so-say matrix-says">{matrixSentence(props)}</p>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reached by keys */}
      <section className="scrolls" aria-label={words.theMatrixOfPriorities} tabIndex={0}>
        <table className="matrix">
          <caption className="unseen">{words.priorityFromHowBad}</caption>
          <thead>
            <tr>
              <th scope="col">{words.howBad}</th>
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
                      {here ? <span className="note"> {words.thisOne}</span> : null}
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
