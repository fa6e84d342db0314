/** What an operating state lets in on purpose. */
import type { OwnGas } from './memory.ts';
import { GAS_STATES } from './states.ts';

/** So much of what the state has that the state must let it in. */
const LET_IN_SHARE = 0.2;

/** `totalPa`: of all gases of the state's background. */
export const isLetIn = ({ pressurePa }: OwnGas, state: string, totalPa: number): boolean =>
  GAS_STATES.has(state) && pressurePa > LET_IN_SHARE * totalPa;
