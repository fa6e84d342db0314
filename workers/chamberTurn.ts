/** What a nudge sets off: fresh scans of the chamber first, then a piece of what people have asked for. */
import { analyseChamber, type Workshop } from './analyseChamber.ts';
import type { Gate } from './gate.ts';
import { workTask } from './tasks.ts';

export interface ChamberTurnDeps {
  readonly shop: Workshop;
  readonly gate: Gate;
  readonly nudge: (chambers: readonly string[]) => Promise<void>;
}

export const makeChamberTurn =
  ({ shop, gate, nudge }: ChamberTurnDeps) =>
  async (chamber: string): Promise<void> => {
    const left = (await analyseChamber(shop, chamber)) || (await gate(() => workTask(shop, chamber)));
    if (left && !shop.stopping()) await nudge([chamber]);
  };
