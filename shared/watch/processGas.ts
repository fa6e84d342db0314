/** What an operating state lets in on purpose. */
import type { Memory, OwnGas } from './memory.ts';
import { GAS_STATES } from './states.ts';

/** So much of what the state has that the state must let it in. */
const LET_IN_SHARE = 0.2;
/** A small flow beside a large one: this share, and so many times what the chamber has of it at rest. */
const SMALL_FLOW = { share: 0.02, timesAtRest: 30 } as const;

/** `totalPa`: of all gases of the state's background. */
export function isLetIn(
  { gas, pressurePa }: OwnGas,
  { state, baselines }: Pick<Memory, 'state' | 'baselines'>,
  totalPa: number,
): boolean {
  if (!GAS_STATES.has(state)) return false;
  if (pressurePa > LET_IN_SHARE * totalPa) return true;
  const rest = baselines.base?.own;
  if (!rest?.length || pressurePa < SMALL_FLOW.share * totalPa) return false;
  return pressurePa > SMALL_FLOW.timesAtRest * (rest.find((own) => own.gas === gas)?.pressurePa ?? 0);
}
