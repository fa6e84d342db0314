/**
 * A standing alert whose numbers have moved is said anew, by the same naming with its own direction left out. Its name
 * stays: if the naming has changed its mind, the sureness falls and the rival stands first among the alternatives.
 */
import { PRIORITIES, type Priority, type Signature } from '../contract/words.ts';
import { stepSince } from './calm.ts';
import { plain, typed } from './channels.ts';
import { shapeSeen } from './explained.ts';
import { judge } from './finding.ts';
import type { Frame } from './frame.ts';
import type { Standing } from './memory.ts';
import type { Candidate } from './naming.ts';
import { nameBest } from './ranking.ts';
import { gasesOf } from './standing.ts';
import { withShape } from './trappedVolumeSaid.ts';
import type { WatchEvent } from './types.ts';

/** Numbers have settled and the name is better known after this many scans. */
const SECOND_LOOKS = new Set([10, 40]);
/** Growing: by a quarter since the alert was raised. */
const GROWN = 1.26;

export function updateStanding(frame: Frame, moved: readonly Standing[]): WatchEvent[] {
  const { memory } = frame;
  const due = memory.standing.filter(
    (standing) =>
      moved.includes(standing) ||
      (hasDirection(standing, frame) && SECOND_LOOKS.has(standing.scans) && standing.below === 0),
  );
  return due.flatMap((standing) => sayAnew(frame, standing, moved.includes(standing)) ?? []);
}

const hasDirection = ({ direction, state, lane }: Standing, frame: Frame): boolean =>
  direction !== null && state === frame.state && lane !== 'day' && direction.length === frame.q.length;

/** Null: nothing that a person would want to be told. */
function sayAnew(frame: Frame, standing: Standing, hasMoved: boolean): WatchEvent | null {
  const others = { ...frame.memory, standing: frame.memory.standing.filter((entry) => entry !== standing) };
  const alone: Frame = { ...frame, memory: others };
  const fall = frame.ownCauses.some(({ id, instrument }) => instrument && id === standing.cause);
  const naming = nameBest(alone, {
    change: frame.middle,
    lane: 'scan',
    fall,
    step: frame.reference.tail ? null : stepSince(standing.before, frame.middle, frame),
  });
  const signature = standing.signature as Signature;
  const candidate = naming.candidates.find(({ cause }) => cause.id === standing.cause) ?? null;
  const said = candidate ?? naming.candidates[0];
  if (!said) return null;
  const gases = new Set([...gasesOf(frame.memory, signature), ...(candidate ? betterGases(candidate) : [])]);
  const growing =
    standing.amplitude > GROWN * standing.raisedAmplitude && standing.amplitude > 0.9 * standing.peakAmplitude;
  const judged = judge({
    frame: alone,
    naming,
    candidate: said,
    signature,
    gases: [...gases],
    change: frame.middle,
    lane: standing.lane,
    growing,
  });
  const { finding, priority: now, calmed } = withShape(frame.memory, standing, judged);
  const known = gasesOf(frame.memory, signature).length;
  const urgent = PRIORITIES.indexOf(now) < PRIORITIES.indexOf(standing.priority as Priority);
  if (!hasMoved && !urgent && finding.sureness === standing.sureness && gases.size === known) return null;
  standing.sureness = finding.sureness;
  standing.gases = [...new Set([...standing.gases, ...(candidate ? betterGases(candidate) : [])])];
  // A person may already act on it: it becomes less urgent only where its course says so.
  const priority = calmed ?? PRIORITIES.find((word) => word === now || word === standing.priority) ?? now;
  standing.priority = priority;
  standing.reportedAmplitude = standing.amplitude;
  standing.reportedAtMs = frame.atMs;
  standing.reportedScans = standing.scans;
  standing.moved = 0;
  reshape(frame, standing);
  return { kind: 'updated', atMs: frame.atMs, signature, gases: [...gases], priority, finding };
}

/** A fault that has grown shows more of its peaks: they are kept as its shape, unless another fault stands in them. */
function reshape(frame: Frame, standing: Standing): void {
  const { direction, amplitude, observedAmplitude } = standing;
  const alone = frame.memory.standing.every((other) => other === standing || other.direction === null);
  if (!alone || direction === null || amplitude <= GROWN * observedAmplitude) return;
  standing.observed = plain(shapeSeen(frame, frame.middle, { direction: typed(direction), amplitude }));
  standing.observedAmplitude = amplitude;
}

const betterGases = ({ variant, cause }: Candidate): readonly string[] => variant.gases ?? cause.gases;
