/** Helium in a leak check is what people are after: it calls nobody, and the reading remembers it. */
import { changeOf } from './estimates.ts';
import type { Memory } from './memory.ts';
import type { Note } from './relearn.ts';
import { pascal, times } from './wording.ts';

/** Twice the usual at rest is a sign of spraying. */
const SEEN_FACTOR = 2;

export function noteHelium(memory: Memory, notes: Note[]): void {
  if (memory.state !== 'leak-check') return;
  const change = changeOf(memory, memory.baselines.base, 'He');
  if (!change?.now.detected || (change.factor ?? 0) < SEEN_FACTOR) return;
  const factor = `${change.atLeast ? 'at least ' : ''}${times(change.factor!)} the usual`;
  notes.push({
    code: 'helium-in-leak-check',
    text: `Helium is ${factor}, ${pascal(change.now.valuePa)}: expected in a leak check.`,
  });
}
