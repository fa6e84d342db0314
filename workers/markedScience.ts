/** The calculations that people ask for, as the workers call them. */

import { changeBetween } from '../shared/analysis/marked/change.ts';
import { learnPattern } from '../shared/analysis/marked/learnPattern.ts';
import { recordBackground } from '../shared/analysis/marked/recordBackground.ts';
import type { AnalysisScan, Background, Calibration, LearnedPattern } from '../shared/analysis/types.ts';
import { catalogueFor, resolveGas } from '../shared/catalogue/select.ts';
import type { ChangeResult } from '../shared/contract/calibration.ts';

/** A result with what a person should know of it, or why there is none. */
type Answer<R> = ({ readonly ok: true } & R) | { readonly ok: false; readonly problem: string };
type Remarked<R> = R & { readonly remarks: readonly string[] };

/** Scans with the calibration they are read with. */
interface Scans {
  readonly scans: readonly AnalysisScan[];
  readonly calibration: Calibration;
}

/** The chamber's own gases beside the default set. */
interface Gases {
  readonly gases: readonly string[];
}

export interface MarkedScience {
  readonly pattern: (
    asked: Scans & Gases & { readonly gas: string; readonly amountFromGauge: boolean },
  ) => Answer<Remarked<{ readonly pattern: LearnedPattern }>>;
  /** `other`: the analyser that is trusted; null: the valve was closed. */
  readonly background: (
    asked: Scans & Gases & { readonly other: Scans | null },
  ) => Answer<Remarked<{ readonly background: Background }>>;
  readonly change: (
    asked: Gases & {
      readonly before: AnalysisScan;
      readonly after: AnalysisScan;
      readonly calibration: Calibration;
      readonly gains: { readonly before: number | null; readonly after: number | null };
    },
  ) => Answer<Pick<ChangeResult, 'gases'>>;
}

export const markedScience: MarkedScience = {
  pattern: ({ gas, gases, scans, calibration, amountFromGauge }) => {
    const catalogue = catalogueFor([...gases, gas]);
    const pure = catalogue.gases.find(({ id }) => id === resolveGas(gas));
    if (pure === undefined) return { ok: false, problem: `The catalogue has no gas ${gas}.` };
    return learnPattern({ gas: pure, catalogue, scans, calibration, amountFromGauge });
  },
  background: ({ gases, ...question }) => recordBackground({ ...question, catalogue: catalogueFor(gases) }),
  change: ({ gases, ...question }) => {
    const answer = changeBetween({ ...question, catalogue: catalogueFor(gases) });
    if (!answer.ok) return answer;
    return {
      ok: true,
      gases: answer.gases.map(({ gas, changePa, sigmaPa, significant }) => ({ gas, changePa, sigmaPa, significant })),
    };
  },
};
