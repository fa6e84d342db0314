/** The numbers behind an alert: what was found beside what was expected. */
import type { Evidence } from '../contract/alerts.ts';
import { ownShareEvidence } from './analyserOwn.ts';
import { changeOf } from './estimates.ts';
import type { Frame } from './frame.ts';
import { gaugeEvidence, gaugeSeen } from './gaugeSaid.ts';
import { usualKappa } from './impossible.ts';
import { type AirGas, type Inflow, inflowOf } from './leakRate.ts';
import { movedGases } from './moved.ts';
import type { Candidate, Naming } from './naming.ts';
import { CLEAR_LEAD, DEAD_BAND, LEAST_EVIDENCE } from './parameters.ts';
import { gasName } from './patterns.ts';
import * as ratios from './ratios.ts';
import { capitalise, number } from './wording.ts';

export const LEAK_UNIT = 'Pa*m3/s' as const;

const RATIOS: Record<string, readonly ratios.RatioExpected[]> = {
  'air-leak': [ratios.NITROGEN, ratios.ARGON_IN_AIR, ratios.OXYGEN_IN_AIR, ratios.ARGON_ISOTOPES],
  'gas-inleak': [
    ratios.NITROGEN,
    ratios.ARGON_IN_AIR,
    { ...ratios.OXYGEN_IN_AIR, under: 'little or no oxygen' },
    ratios.ARGON_ISOTOPES,
  ],
  'carbon-oxides': [ratios.CARBON_MONOXIDE, ratios.NITROGEN],
  water: [ratios.WATER, ratios.ARGON_IN_AIR],
  'hydrocarbon-oil': [ratios.OIL, ratios.OIL_COMB],
};

export interface EvidenceInput {
  readonly frame: Frame;
  readonly signature: string;
  readonly gases: readonly string[];
  readonly change: Float64Array;
  readonly naming: Naming;
  readonly candidate: Candidate;
}

export function evidenceFor(input: EvidenceInput): Evidence[] {
  const { frame, signature, gases, change } = input;
  const rows: (Evidence | null)[] = [];
  if (signature === 'air-leak') rows.push(...leakRows(frame, change));
  for (const gas of gases) rows.push(pressureRow(frame, gas));
  if (signature === 'analyser-outgassing' && input.candidate.cause.id !== 'outgassing')
    rows.push(...ownShareEvidence(frame, gases));
  for (const expected of RATIOS[signature] ?? []) {
    // A ratio to 28 says nothing of a gas without 28.
    if (signature === 'gas-inleak' && expected.below === 28 && !gases.includes('N2')) continue;
    rows.push(ratios.ratioEvidence(frame, change, expected));
  }
  rows.push(...movementRows(input), gaugeEvidence(gaugeSeen(frame, change)), gaugeRow(frame), ...fitRows(input));
  return rows.filter((row) => row !== null);
}

const MOST_MOVED = 10;

/** Of causes that move the chamber's own gases: how far each has moved, beside how far it should have. */
function movementRows({ frame, change, candidate }: EvidenceInput): Evidence[] {
  const { moves, pump } = candidate.variant;
  const { spectra } = frame.reference;
  if (!moves || moves.length !== spectra.length) return [];
  const foretoldOf = new Map(
    spectra.map(({ own }, i) => [own.gas, candidate.amplitude * (pump === 'all' ? 1 : moves[i]!)]),
  );
  return movedGases(frame, change)
    .slice(0, MOST_MOVED)
    .map(({ gas, relative: moved, sigma }) => {
      const foretold = foretoldOf.get(gas)!;
      const room = Math.max(0.5 * foretold, 0.5 * DEAD_BAND);
      const away = moved - foretold;
      return {
        name: `${capitalise(gasName(gas))} against its usual`,
        value: 1 + moved,
        low: Math.max(0, 1 + moved - 2 * sigma),
        high: 1 + moved + 2 * sigma,
        unit: '1',
        expected: `about ${number(1 + foretold)}`,
        expectedLow: 1 + foretold - room,
        expectedHigh: 1 + foretold + room,
        verdict: Math.abs(away) <= room ? 'as foretold' : away > 0 ? 'more than foretold' : 'less than foretold',
      };
    });
}

function leakRows(frame: Frame, change: Float64Array): Evidence[] {
  const of = (gas: AirGas) => inflowOf(gas, frame, change);
  const argon = of('Ar');
  const row = (gas: AirGas, inflow: Inflow): Evidence => {
    const base = { name: `Air by ${gasName(gas)}`, ...inflow, unit: LEAK_UNIT };
    if (gas === 'Ar' || !argon)
      return { ...base, expected: null, verdict: gas === 'Ar' ? 'not eaten: the honest one' : 'upper guess' };
    const agree = inflow.high >= argon.low && inflow.low <= argon.high;
    const lower = gas === 'O2' ? 'oxygen is eaten on the way' : 'less than argon says';
    return {
      ...base,
      expected: `${number(argon.low)}–${number(argon.high)} by argon`,
      expectedLow: argon.low,
      expectedHigh: argon.high,
      verdict: agree ? 'agrees' : inflow.value < argon.value ? lower : 'more than argon says',
    };
  };
  return (['Ar', 'N2', 'O2'] as const).flatMap((gas) => {
    const inflow = of(gas);
    return inflow ? [row(gas, inflow)] : [];
  });
}

function pressureRow({ memory, baseline }: Frame, gas: string): Evidence | null {
  const change = changeOf(memory, baseline, gas);
  if (!change) return null;
  const { now, usualLowPa, usualHighPa, atLeast } = change;
  const range =
    usualHighPa === null
      ? null
      : atLeast
        ? `below ${number(usualHighPa)}`
        : `${number(usualLowPa!)}–${number(usualHighPa)}`;
  const above = usualHighPa !== null && now.lowPa > usualHighPa;
  return {
    name: capitalise(gasName(gas)),
    value: now.detected ? now.valuePa : null,
    low: now.detected ? now.lowPa : 0,
    high: now.highPa,
    unit: 'Pa',
    expected: range,
    expectedLow: usualLowPa,
    expectedHigh: usualHighPa,
    verdict: !now.detected ? 'below detection' : above ? 'above its usual range' : 'within what is known',
  };
}

/** κ = gauge / Σ s_i P_i: the analyser and the gauge move together when the chamber moves. */
function gaugeRow({ input, memory }: Frame): Evidence | null {
  const { kappa } = input.analysis;
  const usual = usualKappa(memory);
  if (kappa === null) return null;
  const [low, high] = usual === null ? [0.7, 1.4] : [usual / 1.26, usual * 1.26];
  return {
    name: 'κ: gauge over the sum of partial pressures',
    value: kappa,
    unit: '1',
    expected: `${number(low)}–${number(high)}`,
    expectedLow: low,
    expectedHigh: high,
    verdict:
      kappa < low
        ? 'the gauge sees less than the analyser'
        : kappa > high
          ? 'the gauge sees more than the analyser'
          : 'the gauge agrees',
  };
}

function fitRows({ naming, candidate, change }: EvidenceInput): Evidence[] {
  const evidence = candidate.score - naming.nothing;
  const others = naming.candidates.filter(({ cause }) => cause.signature !== candidate.cause.signature);
  const lead = others[0] ? candidate.score - others[0].score : null;
  const misfit = candidate.misfit / change.length;
  return [
    {
      name: 'Odds against "nothing has happened", natural log',
      value: evidence,
      unit: '1',
      expected: `above ${LEAST_EVIDENCE}`,
      expectedLow: LEAST_EVIDENCE,
      verdict: evidence >= LEAST_EVIDENCE ? 'something has changed' : 'it may be nothing',
    },
    {
      name: 'Odds against the next cause, natural log',
      value: lead,
      unit: '1',
      expected: `above ${CLEAR_LEAD}`,
      expectedLow: CLEAR_LEAD,
      verdict: lead === null || lead >= CLEAR_LEAD ? 'clear of the next cause' : 'cannot tell from the next cause',
    },
    {
      name: 'Change left unexplained, χ² per peak',
      value: misfit,
      unit: '1',
      expected: 'below 3',
      expectedHigh: 3,
      verdict: misfit < 3 ? 'little is left over' : 'something is left over',
    },
  ];
}
