/** From a naming to what is said: sentence, sureness, evidence, first step, what would settle it, what else it could be. */
import { resolveGas } from '../catalogue/select.ts';
import { SIGNATURES_BY_ID } from '../catalogue/signatures.ts';
import type { Alternative } from '../contract/alerts.ts';
import type { Priority, Signature } from '../contract/words.ts';
import { changeSpectrum } from './changeSpectrum.ts';
import { changeOf } from './estimates.ts';
import { evidenceFor, LEAK_UNIT } from './evidence.ts';
import type { Frame } from './frame.ts';
import { gaugeSeen } from './gaugeSaid.ts';
import { type AirGas, inflowOf } from './leakRate.ts';
import { hasRisen, hasStayed, movedGases } from './moved.ts';
import type { Candidate, Naming } from './naming.ts';
import { CLEAR_LEAD } from './parameters.ts';
import { priorityOf } from './priority.ts';
import { OXYGEN_IN_AIR, ratioEvidence } from './ratios.ts';
import { ruleOf } from './rules.ts';
import { hasSecondWitness } from './secondWitness.ts';
import { causeSaid, sentence } from './sentence.ts';
import { surenessOf } from './sureness.ts';
import type { Finding } from './types.ts';

export interface FindingInput {
  readonly frame: Frame;
  readonly naming: Naming;
  readonly candidate: Candidate;
  readonly signature: Signature;
  readonly gases: readonly string[];
  readonly change: Float64Array;
  readonly lane: string;
  readonly growing: boolean;
}

export interface Judged {
  readonly finding: Finding;
  readonly priority: Priority;
}

/** A peak of the change stands out at this many sigma. */
const OUTSTANDING_SIGMA = 4;
const MOST_ALTERNATIVES = 2;

/** As the evidence has it: a variant with little oxygen may fit best while the ratio is still that of air. */
const isOxygenEaten = (frame: Frame, change: Float64Array): boolean =>
  ratioEvidence(frame, change, OXYGEN_IN_AIR)?.verdict === OXYGEN_IN_AIR.under;

export function judge(input: FindingInput): Judged {
  const { frame, signature, gases, candidate, lane, naming } = input;
  const entry = SIGNATURES_BY_ID[signature];
  const odds = oddsOf(input);
  const sureness = odds === null ? 'cannot tell' : surenessOf(odds);
  const runners = runnersUp(naming, signature);
  const changes = gases.flatMap((gas) => {
    const change = changeOf(frame.memory, frame.baseline, gas);
    return change ? [{ gas, change }] : [];
  });
  const inflowBy = signature === 'air-leak' ? honestGas(frame, input.change) : null;
  const inflow = inflowBy ? inflowOf(inflowBy, frame, input.change) : null;
  const witnessed = hasSecondWitness({
    frame,
    signature,
    change: input.change,
    direction: candidate.direction,
    amplitude: candidate.amplitude,
  });
  const scaled = frame.input.peaks.scaled;
  const summary = sentence({
    signature,
    cause: candidate.cause.id,
    gases,
    changes,
    inflow: scaled ? inflow : null,
    inflowBy,
    sureness,
    runnerUp: runners[0]?.cause.signature ?? null,
    growing: input.growing,
    slow: lane === 'day',
    oxygenEaten: signature === 'air-leak' && isOxygenEaten(frame, input.change),
    amplitude: candidate.amplitude,
    masses: outstandingMasses(input),
    kappa: frame.input.analysis.kappa,
    scaled,
    ...(candidate.variant.pump && { pump: candidate.variant.pump }),
    ...movedBy(input),
    gauge: gaugeSeen(frame, input.change),
  });
  const finding: Finding = {
    summary,
    sureness,
    firstStep: entry.firstSteps[0],
    settle: entry.settles,
    evidence: evidenceFor({ frame, signature, gases, change: input.change, naming, candidate }),
    alternatives: runners.slice(0, MOST_ALTERNATIVES).map((runner) => alternative(runner, candidate)),
    ...(inflow && scaled && { leakRate: { ...inflow, unit: LEAK_UNIT } }),
    ...(odds !== null && { odds }),
    change: changeSpectrum(frame, input.change, lane),
  };
  const factor = changes[0]?.change.factor ?? null;
  const named = frame.context.chamber.gases.map((gas) => resolveGas(gas) ?? gas);
  const set = ruleOf(frame.context, signature)?.priority;
  return { finding, priority: priorityOf({ signature, gases, lane, sureness, factor, witnessed, named, set }) };
}

/** Of the gases that the cause moves those that have risen, most first, and of the others those that have stayed. */
function movedBy({ frame, change, candidate }: FindingInput): { risen?: string[]; stayed?: string[] } {
  const { moves } = candidate.variant;
  const { spectra } = frame.reference;
  if (moves?.length !== spectra.length) return {};
  const asked = new Set(spectra.filter((_, i) => moves[i]! > 0).map(({ own }) => own.gas));
  const moved = movedGases(frame, change).sort((a, b) => b.relative - a.relative);
  return {
    risen: moved.filter((one) => asked.has(one.gas) && hasRisen(one)).map(({ gas }) => gas),
    stayed: moved.filter((one) => !asked.has(one.gas) && hasStayed(one)).map(({ gas }) => gas),
  };
}

/** Odds of the signature among all that compete; null where none of them explains the change. */
function oddsOf({ signature, naming, candidate }: FindingInput): number | null {
  if (signature === 'unexplained-peaks') return null;
  // Gas that is mostly the analyser's own is told by the name of the analyser.
  const named = signature === 'analyser-outgassing' ? candidate.cause.signature : signature;
  return naming.candidates
    .filter(({ cause }) => cause.signature === named)
    .reduce((sum, candidate) => sum + candidate.odds, 0);
}

/** The best candidate of every other signature, best first. */
function runnersUp({ candidates }: Naming, signature: string): Candidate[] {
  const seen = new Set([signature]);
  const out: Candidate[] = [];
  for (const candidate of candidates) {
    if (seen.has(candidate.cause.signature)) continue;
    seen.add(candidate.cause.signature);
    out.push(candidate);
  }
  return out;
}

/** Natural log of the odds at which a rival is out of the question rather than second best. */
const FAR_BEHIND = 30;

function alternative(runner: Candidate, best: Candidate): Alternative {
  const behind = best.score - runner.score;
  const settles = SIGNATURES_BY_ID[runner.cause.signature].settles;
  const how = behind < CLEAR_LEAD ? 'explains it as well' : `explains it ${behind < FAR_BEHIND ? '' : 'far '}less well`;
  return { signature: runner.cause.signature, why: `${causeSaid(runner.cause.signature)} ${how}. ${settles}` };
}

/** Argon speaks for air where it is seen; nitrogen where the scan has no 40. */
function honestGas(frame: Frame, change: Float64Array): AirGas | null {
  const seen = (['Ar', 'N2'] as const).find((gas) => (inflowOf(gas, frame, change)?.low ?? 0) > 0);
  return seen ?? (inflowOf('Ar', frame, change) ? 'Ar' : null);
}

function outstandingMasses({ frame, change }: FindingInput): number[] {
  const { masses, variance } = frame.baseline;
  const rows = masses.map((mass, i) => ({
    mass,
    height: change[i + 1]!,
    z: change[i + 1]! / Math.sqrt(variance[i + 1]!),
  }));
  const top = Math.max(...rows.filter(({ mass }) => mass > 1).map(({ height }) => height));
  // m/z 1 carries the foot of the mass filter.
  return rows
    .filter(({ mass, z, height }) => mass > 1 && z > OUTSTANDING_SIGMA && height > 0.05 * top)
    .map(({ mass }) => mass);
}
