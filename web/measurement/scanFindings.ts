/** What the last scan holds that is not the chamber's gas, and what cannot be told from it. */
import type { AnalyserMeasurement } from '../../shared/contract/measurement.ts';
import type { PressureUnit } from '../../shared/units.ts';
import { gasSpoken, gasTitle } from '../notation/gas.ts';
import { brief, plain } from '../notation/number.ts';
import { NBSP, pressure } from '../notation/pressure.ts';
import { listed, several } from '../notation/sentence.ts';
import { pressureWithin } from './findings.ts';

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
    what: 'The analyser’s own gas',
    found:
      gases.length === 0
        ? ['no background on record']
        : gases.map(
            ({ gas, share, analyserLimited }) =>
              `${gasTitle(gas)} ${percent(share)}${analyserLimited ? ', analyser limited' : ''}`,
          ),
    so:
      gases.length === 0
        ? 'cannot tell how much the analyser adds: a background recorded behind a closed valve would say it'
        : limited.length === 0
          ? 'less than half of each: the chamber’s gas can be told from it'
          : `${spoken(limited)}: more than half comes from the analyser, so the chamber has at most this`,
  };
}

function foot({ foot: removed, principle }: AnalyserMeasurement, unit: PressureUnit): ScanFinding {
  return {
    what: 'Foot at the lowest masses',
    found:
      removed === null
        ? ['none']
        : [`${pressure(removed.removed, unit)} removed, ${percent(removed.share)} of the peak`],
    so:
      removed !== null
        ? 'hydrogen is given without it'
        : principle === 'ion trap'
          ? 'an ion trap has none, so it is not looked for'
          : 'nothing had to be taken from hydrogen',
  };
}

function desorbed({ desorbed: ions, principle }: AnalyserMeasurement, unit: PressureUnit): ScanFinding {
  return {
    what: 'Ions knocked off surfaces',
    found:
      ions.length === 0
        ? ['none']
        : ions.map(
            ({ ion, mass, height, share }) =>
              `${ion} at ${mass}: ${pressure(height, unit)}, ${percent(share)} of the peak`,
          ),
    so:
      ions.length > 0
        ? 'electrons free them inside the ioniser: they are no gas of the chamber'
        : principle === 'ion trap'
          ? 'not looked for in an ion trap'
          : 'no peak needs them',
  };
}

function leftOut({ leftOut: masses }: AnalyserMeasurement): ScanFinding {
  return {
    what: 'Masses left out',
    found: masses.length === 0 ? ['none'] : masses.map(({ mass, why }) => `${mass}: ${why}`),
    so: masses.length === 0 ? 'every mass was used' : 'marked, not believed: no gas is judged by them',
  };
}

function groups({ groups: all }: AnalyserMeasurement, unit: PressureUnit): ScanFinding {
  return {
    what: 'Gases that cannot be told apart',
    found:
      all.length === 0
        ? ['none']
        : all.map(({ gases, sum, low, high, correlation }) => {
            const together =
              sum === null || sum <= 0
                ? high === null
                  ? 'cannot tell how much'
                  : `below ${pressure(high, unit)}`
                : low !== null && high !== null && low > 0
                  ? pressureWithin(sum, { low, high }, unit)
                  : pressure(sum, unit);
            return `${gases.map(gasTitle).join(' + ')}: together ${together}, correlation ${brief(correlation)}`;
          }),
    so: all.length === 0 ? 'each gas stands on peaks of its own' : 'the sum is known, how it is divided is not',
  };
}

function lookAlikes({ lookAlikes: all }: AnalyserMeasurement): ScanFinding {
  return {
    what: 'Look-alikes',
    found:
      all.length === 0
        ? ['none']
        : all.map(
            ({ gas, parent, ratio, scans }) =>
              `${gasTitle(gas)} at ${percent(ratio)} of ${gasTitle(parent)} for ${several(scans, 'scan')}`,
          ),
    so:
      all.length === 0
        ? 'no gas has followed another all the time'
        : 'a fixed share of another gas is more likely a wrong pattern than a gas; marking pure scans would settle it',
  };
}

function candidates({ candidates: all }: AnalyserMeasurement): ScanFinding {
  return {
    what: 'Unexplained peaks',
    found:
      all.length === 0
        ? ['none']
        : all.map(
            ({ mass, share, gases }) =>
              `${mass} ?, ${percent(share)} of the signal${gases.length === 0 ? '' : `: ${gases.map(gasTitle).join(' or ')}`}`,
          ),
    so: all.length === 0 ? 'every peak has a gas' : 'a peak alone does not make a gas: ask what was brought in',
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
