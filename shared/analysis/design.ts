import { type Artefact, artefacts } from './artefacts.ts';
import type { Column, GasColumns } from './columns.ts';

/**
 * The design matrix of one mass grid: gases first, then artefacts, sparse in both directions.
 * By row: entries `rowStart[m] … rowStart[m + 1]` of `entryColumn`, `entryResponse`.
 */
export interface Design {
  readonly masses: readonly number[];
  readonly columns: readonly Column[];
  /** The first `gasCount` columns are gases. */
  readonly gasCount: number;
  /** 1: the column may take any sign. */
  readonly free: Uint8Array;
  readonly rowStart: Int32Array;
  readonly entryColumn: Int32Array;
  readonly entryResponse: Float64Array;
}

export function makeDesign({ masses, columns }: GasColumns, principle: 'quadrupole' | 'ion trap'): Design {
  return joinColumns(masses, columns, artefacts(masses, principle));
}

export function joinColumns(masses: readonly number[], gases: readonly Column[], own: readonly Artefact[]): Design {
  const columns = [...gases, ...own.map((artefact) => artefact.column)];
  const free = new Uint8Array(columns.length);
  own.forEach((artefact, k) => {
    free[gases.length + k] = artefact.free ? 1 : 0;
  });
  return { masses, columns, gasCount: gases.length, free, ...byRow(masses.length, columns) };
}

function byRow(
  rowCount: number,
  columns: readonly Column[],
): Pick<Design, 'rowStart' | 'entryColumn' | 'entryResponse'> {
  const rowStart = new Int32Array(rowCount + 1);
  for (const column of columns) for (const row of column.rows) rowStart[row + 1]!++;
  for (let row = 0; row < rowCount; row++) rowStart[row + 1]! += rowStart[row]!;
  const entryColumn = new Int32Array(rowStart[rowCount]!);
  const entryResponse = new Float64Array(rowStart[rowCount]!);
  const next = rowStart.slice();
  columns.forEach((column, j) => {
    column.rows.forEach((row, k) => {
      const at = next[row]!++;
      entryColumn[at] = j;
      entryResponse[at] = column.response[k]!;
    });
  });
  return { rowStart, entryColumn, entryResponse };
}
