/** What the last scan holds that is not the chamber's gas, and what cannot be told from it. */

import type { AnalyserMeasurement } from '../../shared/contract/measurement.ts';
import type { PressureUnit } from '../../shared/units.ts';
import { gasSpoken, gasTitle } from '../notation/gas.ts';
import { brief, plain } from '../notation/number.ts';
import { NBSP, pressure } from '../notation/pressure.ts';
import { listed, several } from '../notation/sentence.ts';
import { words as all } from '../strings/analyserFound.ts';
import { pressureWithin } from './findings.ts';

const words = all.scanFindings;

export interface ScanFinding {
  readonly what: string;
  /** One entry a line. */
  readonly found: readonly string[];
  readonly so: string;
}

const percent = (share: number): string => {
  const value = share * 100;
  return `${value > 0 && value < 0.01 ? '< 0.01' : plain(value)}${NBSP}%`;
};

const spoken = (gases: readonly string[]): string => listed(gases.map(gasSpoken));

function ownGas({ ownGas: gases }: AnalyserMeasurement): ScanFinding {
  const limited = gases.filter(({ analyserLimited }) => analyserLimited).map(({ gas }) => gas);
  return {
    what: words.theAnalyserSOwn,
    found:
      gases.length === 0
        ? [words.noBackgroundOnRecord]
        : gases.map(
            ({ gas, share, analyserLimited }) =>
              `${gasTitle(gas)} ${percent(share)}${analyserLimited ? words.analyserLimited : ''}`,
          ),
    so:
      gases.length === 0
        ? words.cannotTellHowMuch
        : limited.length === 0
          ? words.lessThanHalfOf
          : words.moreThanHalfComes(spoken(limited)),
  };
}

function foot({ foot: removed, principle }: AnalyserMeasurement, unit: PressureUnit): ScanFinding {
  return {
    what: words.footAtTheLowest,
    found:
      removed === null ? ['none'] : [words.removedOfThePeak(pressure(removed.removed, unit), percent(removed.share))],
    so:
      removed !== null
        ? words.hydrogenIsGivenWithout
        : principle === 'ion trap'
          ? words.anIonTrapHas
          : words.nothingHadToBe,
  };
}

function desorbed({ desorbed: ions, principle }: AnalyserMeasurement, unit: PressureUnit): ScanFinding {
  return {
    what: words.ionsKnockedOffSurfaces,
    found:
      ions.length === 0
        ? ['none']
        : ions.map(({ ion, mass, height, share }) =>
            words.atOfThePeak(ion, mass, pressure(height, unit), percent(share)),
          ),
    so:
      ions.length > 0
        ? words.electronsFreeThemInside
        : principle === 'ion trap'
          ? words.notLookedForIn
          : words.noPeakNeedsThem,
  };
}

function leftOut({ leftOut: masses }: AnalyserMeasurement): ScanFinding {
  return {
    what: words.massesLeftOut,
    found: masses.length === 0 ? ['none'] : masses.map(({ mass, why }) => `${mass}: ${why}`),
    so: masses.length === 0 ? words.everyMassWasUsed : words.markedNotBelievedNo,
  };
}

function groups({ groups: all }: AnalyserMeasurement, unit: PressureUnit): ScanFinding {
  return {
    what: words.gasesThatCannotBe,
    found:
      all.length === 0
        ? ['none']
        : all.map(({ gases, sum, low, high, correlation }) => {
            const together =
              sum === null || sum <= 0
                ? high === null
                  ? words.cannotTellHowMuchAgain
                  : words.below(pressure(high, unit))
                : low !== null && high !== null && low > 0
                  ? pressureWithin(sum, { low, high }, unit)
                  : pressure(sum, unit);
            return words.togetherCorrelation(gases.map(gasTitle).join(' + '), together, brief(correlation));
          }),
    so: all.length === 0 ? words.eachGasStandsOn : words.theSumIsKnown,
  };
}

function lookAlikes({ lookAlikes: all }: AnalyserMeasurement): ScanFinding {
  return {
    what: 'Look-alikes',
    found:
      all.length === 0
        ? ['none']
        : all.map(({ gas, parent, ratio, scans }) =>
            words.atOfFor(gasTitle(gas), percent(ratio), gasTitle(parent), several(scans, 'scan')),
          ),
    so: all.length === 0 ? words.noGasHasFollowed : words.aFixedShareOf,
  };
}

function candidates({ candidates: all }: AnalyserMeasurement): ScanFinding {
  return {
    what: words.unexplainedPeaks,
    found:
      all.length === 0
        ? ['none']
        : all.map(({ mass, share, gases }) =>
            words.ofTheSignal(mass, percent(share), gases.length === 0 ? '' : `: ${gases.map(gasTitle).join(' or ')}`),
          ),
    so: all.length === 0 ? words.everyPeakHasA : words.aPeakAloneDoes,
  };
}

export const scanFindings = (measured: AnalyserMeasurement, unit: PressureUnit): ScanFinding[] => [
  ownGas(measured),
  foot(measured, unit),
  desorbed(measured, unit),
  leftOut(measured),
  groups(measured, unit),
  lookAlikes(measured),
  candidates(measured),
];

/** Whether something stands there that a person should see at once. */
export const saysSomething = ({ found }: ScanFinding): boolean =>
  !(found.length === 1 && (found[0] === 'none' || found[0] === 'no background on record'));
