import type { Catalogue } from '../catalogue/types.ts';
import { type OwnGas, ownGasOf } from './background.ts';
import { type Strangers, strangersOf } from './candidates.ts';
import { type ColumnsKnown, gasColumns } from './columns.ts';
import { makeDesign } from './design.ts';
import { type Fitter, makeFitter } from './fit.ts';
import type { Calibration } from './types.ts';

/** What depends on the analyser and the mass grid only, worked out once. */
export interface Prepared {
  readonly fitter: Fitter;
  /** The analyser's own gas on this grid; null without a recorded background. */
  readonly own: OwnGas | null;
  /** Gases that the chamber's list leaves out; asked only when a peak is unexplained. */
  strangers(): Strangers;
}

/** `masses` that can be used; `leftOut`: others that were measured. */
export type Prepare = (masses: readonly number[], leftOut: readonly number[]) => Prepared;

/** Mass grids that are kept ready: one analyser uses one or two, and gaps in a scan make a few more. */
const GRIDS_KEPT = 16;

export function makePrepare(calibration: Calibration, catalogue: Catalogue): Prepare {
  const grids = new Map<string, Prepared>();
  return (masses, leftOut) => {
    const key = `${masses.join()}/${leftOut.join()}`;
    let prepared = grids.get(key);
    if (prepared === undefined) {
      prepared = prepare(calibration, catalogue, { masses, leftOut });
      if (grids.size >= GRIDS_KEPT) grids.delete(grids.keys().next().value as string);
      grids.set(key, prepared);
    }
    return prepared;
  };
}

interface Grid {
  readonly masses: readonly number[];
  readonly leftOut: readonly number[];
}

function prepare(calibration: Calibration, catalogue: Catalogue, { masses, leftOut }: Grid): Prepared {
  const known: ColumnsKnown = {
    patterns: calibration.patterns ?? [],
    leftOut,
    ...(calibration.sensitivityUncertainty === undefined
      ? {}
      : { calibrationUncertainty: calibration.sensitivityUncertainty }),
  };
  const fitter = makeFitter(makeDesign(gasColumns(catalogue, masses, known), calibration.principle));
  let strangers: Strangers | null = null;
  return {
    fitter,
    own: calibration.background ? ownGasOf(fitter, calibration.background) : null,
    strangers: () => {
      strangers ??= strangersOf(catalogue, masses, known);
      return strangers;
    },
  };
}
