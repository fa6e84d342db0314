import { GASES } from '../catalogue/gases.ts';
import type { Catalogue, CatalogueGas } from '../catalogue/types.ts';
import { type Column, type ColumnsKnown, gasColumns } from './columns.ts';
import type { Explanation } from './explain.ts';
import { type Fit, RARE_EVIDENCE } from './fit.ts';
import { scoreColumn } from './score.ts';
import type { Measurement } from './types.ts';

/**
 * Which gases, of all that the catalogue knows, would give the peaks that this chamber's gases do not explain.
 *
 * Each is tested as if it had been left out of the fit (score.ts). It is named for a peak when the evidence over the whole
 * spectrum would have let it in and it accounts for at least a third of what is left there: a gas that would put
 * larger peaks where there are none has no evidence. Gases of the chamber are not asked again: they had their turn.
 */
export interface Strangers {
  readonly columns: readonly Column[];
}

const LEAST_PART = 1 / 3;
const MOST_NAMED = 3;

/** Columns of all gases that the chamber's catalogue leaves out. */
export function strangersOf(
  catalogue: Catalogue,
  masses: readonly number[],
  known: ColumnsKnown,
  everything: readonly CatalogueGas[] = GASES,
): Strangers {
  const own = new Set(catalogue.gases.map(({ id }) => id));
  const nitrogen = catalogue.gases.filter(({ id }) => id === 'N2');
  const gases = [...nitrogen, ...everything.filter(({ id }) => !own.has(id))];
  const { columns } = gasColumns({ ...catalogue, gases }, masses, known);
  return { columns: columns.filter(({ id, reportable }) => !own.has(id) && reportable) };
}

export function candidatesOf(fit: Fit, { listed }: Explanation, { columns }: Strangers): Measurement['candidates'] {
  if (listed.length === 0) return [];
  const { design, residual, variance, placeOf, covariance, covarianceColumns } = fit;
  const covarianceSize = covarianceColumns.length;
  const overlap = new Float64Array(covarianceSize);
  const question = { design, residual, variance, placeOf, covariance, covarianceSize, overlap };
  const tested = columns.map((column) => ({ column, score: scoreColumn(column, question) }));
  const likely = tested.filter(({ score }) => score.z >= RARE_EVIDENCE).sort((a, b) => b.score.z - a.score.z);
  return listed.map(({ mass, share }) => {
    const row = design.masses.indexOf(mass);
    const gases = likely
      .filter(({ column, score }) => responseAt(column, row) * score.estimate >= LEAST_PART * residual[row]!)
      .slice(0, MOST_NAMED)
      .map(({ column }) => column.id);
    return { mass, share, gases };
  });
}

function responseAt({ rows, response }: Column, row: number): number {
  const place = rows.indexOf(row);
  return place < 0 ? 0 : response[place]!;
}
