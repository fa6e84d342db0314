/**
 * What a colleague would say on the phone: subject, verb, number, how sure. No clock times: the pure function does not
 * know the zone, and the time of the alert stands beside the sentence.
 */
import type { PumpFamily } from './cause.ts';
import type { Change } from './estimates.ts';
import { type GaugeSeen, gaugeSaid } from './gaugeSaid.ts';
import type { Inflow } from './leakRate.ts';
import { WARM_CAUSE } from './ownCauses.ts';
import { gasName } from './patterns.ts';
import type { Sureness } from './sureness.ts';
import { capitalise, list, number, pascal, times, withInterval } from './wording.ts';

export interface SentenceInput {
  readonly signature: string;
  readonly cause: string;
  readonly gases: readonly string[];
  readonly changes: readonly { readonly gas: string; readonly change: Change }[];
  readonly inflow: Inflow | null;
  /** Which gas the inflow rests on. */
  readonly inflowBy: string | null;
  readonly sureness: Sureness;
  readonly runnerUp: string | null;
  readonly growing: boolean;
  readonly slow: boolean;
  readonly oxygenEaten: boolean;
  /** Relative amplitude, for causes that move everything. */
  readonly amplitude: number;
  /** Masses that stand out, for peaks without an explanation. */
  readonly masses: readonly number[];
  readonly kappa: number | null;
  readonly scaled: boolean;
  /** Which pump gives in, for a loss of pumping. */
  readonly pump?: PumpFamily;
  /** Of causes that move gases of the background: which of those that they move have risen, and which of the others have stayed. */
  readonly risen?: readonly string[];
  readonly stayed?: readonly string[];
  /** What the gauge did; null where none is in the scans. */
  readonly gauge?: GaugeSeen | null;
}

const SURE: Record<Sureness, string> = {
  'nearly certain': 'Nearly certain.',
  likely: 'Likely.',
  'more likely than not': 'More likely than not.',
  open: 'Open.',
  'cannot tell': 'Cannot tell.',
};

const CAUSE_SAID: Record<string, string> = {
  'air-leak': 'an air leak',
  'gas-inleak': 'gas from a line',
  water: 'water',
  'hydrocarbon-oil': 'pump oil',
  perfluoropolyether: 'a fluorinated fluid',
  silicone: 'silicone',
  solvent: 'a solvent',
  helium: 'helium',
  hydrogen: 'hydrogen',
  'carbon-oxides': 'oxides of carbon',
  methane: 'methane',
  'argon-bursts': 'an ion pump letting go',
  'pumping-loss': 'a loss of pumping',
  'mass-shift': 'a mass scale that slid',
  'sensitivity-drift': 'an analyser or gauge that reads wrong',
  'impossible-pressure': 'a gauge that reads low',
  'analyser-outgassing': 'gas from the analyser itself',
  'unexplained-peaks': 'something unknown',
};
export const causeSaid = (signature: string): string => CAUSE_SAID[signature] ?? signature;

export function sentence(input: SentenceInput): string {
  const { sureness, signature, runnerUp } = input;
  const open =
    sureness === 'open' && runnerUp
      ? `Open between ${causeSaid(signature)} and ${causeSaid(runnerUp)}.`
      : SURE[sureness];
  return `${capitalise(body(input))}. ${open}`;
}

/** `3.1×10⁻⁸ Pa (2.4–3.9)`, or the factor alone where the analyser has no scale. */
function amount({ changes, scaled, amplitude }: SentenceInput): string | null {
  const change = changes[0]?.change;
  // A gas that the analysis of this chamber does not solve for, or not yet: what its peaks say, without an interval.
  if (!scaled) return null;
  if (!change?.now.detected) return `about ${pascal(amplitude)}`;
  return withInterval(change.now.valuePa, change.now.lowPa, change.now.highPa, 'Pa');
}

function factorOf({ factor, atLeast }: Change): string | null {
  if (factor === null || factor < 1.05) return null;
  return `${atLeast ? 'at least ' : ''}${times(factor)} the usual`;
}

function factors({ changes }: SentenceInput): string[] {
  return changes.flatMap(({ gas, change }) => {
    const factor = factorOf(change);
    return factor ? [`${gasName(gas)} is ${factor}`] : [];
  });
}

function body(input: SentenceInput): string {
  switch (input.signature) {
    case 'air-leak':
      return air(input);
    case 'gas-inleak':
      return line(input);
    case 'pumping-loss':
      return `${pumping(input)} about ${times(1 + input.amplitude)} the usual`;
    case 'sensitivity-drift':
      return drift(input);
    case 'impossible-pressure':
      return impossible(input);
    case 'mass-shift':
      return `The mass scale of the analyser has slid: the heavier the peak, the more it has lost; ${gaugeSaid(input.gauge ?? null)}`;
    case 'analyser-outgassing':
      return input.cause === 'outgassing'
        ? `The analyser itself gives off ${list((input.risen ?? input.gases).map(gasName))}: ${gaugeSaid(input.gauge ?? null)}`
        : `The analyser gives off ${list(input.gases.map(gasName))}: by its recorded background more than half is its own`;
    case 'unexplained-peaks':
      return unexplained(input);
    case 'argon-bursts':
      return 'Argon comes alone and in regular bursts: an ion pump lets it go, nothing leaks';
    default:
      return contaminant(input);
  }
}

/** Ends in front of how much. */
function pumping({ pump = 'all', risen = [], stayed = [] }: SentenceInput): string {
  if (pump === 'all') return 'Pumping is going: every gas is';
  if (pump === 'light-first') return 'Pumping is going: the lightest gases most, up to';
  const gases = risen.length > 0 ? `${list(risen.map(gasName))} ${risen.length > 1 ? 'rise' : 'rises'}` : null;
  const others = `${list(stayed.map(gasName))} ${stayed.length > 1 ? 'do' : 'does'} not`;
  const shown = [gases, gases && stayed.length > 0 ? others : null].filter((part) => part !== null).join(', ');
  return `A ${pump} gives in${shown && `: ${shown}`}; what rises most is at`;
}

function air(input: SentenceInput): string {
  const { inflow, inflowBy, growing, slow, oxygenEaten } = input;
  const verb = slow ? 'Air leaks in slowly' : `Air is leaking in${growing ? ' and growing' : ''}`;
  const parts: string[] = [];
  if (inflow && inflowBy)
    parts.push(`${withInterval(inflow.value, inflow.low, inflow.high, 'Pa·m³/s')}, measured by ${gasName(inflowBy)}`);
  else parts.push(...factors(input).slice(0, 2));
  if (oxygenEaten) parts.push('oxygen is eaten on the way');
  return parts.length > 0 ? `${verb}: ${parts.join('; ')}` : verb;
}

const NOT_WITH_IT: Record<string, string> = {
  N2: 'no argon, no oxygen with it',
  Ar: 'no nitrogen, no oxygen with it',
  O2: 'no nitrogen, no argon with it',
};

function line(input: SentenceInput): string {
  const gas = input.gases[0] ?? '';
  const change = input.changes[0]?.change;
  const factor = change && !change.atLeast ? factorOf(change) : null;
  const said = factor ?? amount(input);
  const parts = [said, said === factor ? null : 'not seen here before', NOT_WITH_IT[gas] ?? null].filter(
    (part) => part !== null,
  );
  return `${gasName(gas)} leaks in from a line${input.growing ? ' and grows' : ''}: ${parts.join(', ')}`;
}

const ARRIVED: Record<string, string> = {
  'hydrocarbon-oil': 'Pump oil has come in',
  perfluoropolyether: 'A fluorinated pump fluid or grease has come in',
  silicone: 'Silicone has come in',
};

function contaminant(input: SentenceInput): string {
  const { signature, gases, growing } = input;
  const grows = growing ? ' and grows' : '';
  if (ARRIVED[signature]) return withAmount(`${ARRIVED[signature]}${grows}`, amount(input));
  if (signature === 'solvent')
    return withAmount(`A solvent has come in${grows}: ${list(gases.map(gasName))}`, amount(input), ', ');
  const said = factors(input);
  const head = said.length > 0 ? list(said) : `${list(gases.map(gasName))} ${gases.length > 1 ? 'have' : 'has'} risen`;
  if (input.cause === WARM_CAUSE) return warm(head, input);
  const tail = signature === 'water' ? ', and no air came with it' : '';
  return withAmount(`${head}${growing ? ' and growing' : ''}${tail}`, amount(input));
}

/** Several gases, each said with its own factor. */
const warm = (head: string, { growing, stayed = [] }: SentenceInput): string =>
  `${head}${growing ? ' and growing' : ''}${stayed.includes('N2') ? ', nitrogen has not risen' : ''}: a warm surface gives them off`;

const withAmount = (head: string, said: string | null, join = ': '): string => (said ? `${head}${join}${said}` : head);

function drift({ cause, amplitude, kappa, gauge }: SentenceInput): string {
  const now = kappa === null ? '' : `, and κ is now ${number(kappa)}`;
  if (cause === 'gain-down')
    return `The analyser is losing gain: every gas reads ${times(1 / Math.max(0.02, 1 - amplitude))} low${now}. The chamber is not cleaner`;
  if (cause === 'gain-up')
    return `The analyser reads high: every gas shows ${times(1 + amplitude)} the usual, ${gaugeSaid(gauge ?? null)}`;
  if (cause === 'gauge-up') return `The gauge alone has risen to ${times(1 + amplitude)} the usual; no gas explains it`;
  return `The gauge alone has fallen to ${times(Math.max(0.01, 1 - amplitude))} the usual; no gas explains it`;
}

function impossible({ kappa }: SentenceInput): string {
  const ratio = kappa && kappa > 0 ? `: together they are ${times(1 / kappa)} what the gauge reads` : '';
  return `The partial pressures are above the total${ratio}. Analyser or gauge is wrong; pressures and limits are not judged meanwhile`;
}

function unexplained({ masses }: SentenceInput): string {
  const many = masses.length === 1 ? 'One peak has' : `${masses.length} peaks have`;
  return `${many} no explanation: ${list(masses.slice(0, 6).map(String))}${masses.length > 6 ? ' and others' : ''}`;
}
