/** What people call a gas in a sentence: `water`, `hydrocarbon oil`. */
import { GASES } from '../shared/catalogue/gases.ts';

const NAMES = new Map<string, string>(GASES.map((gas) => [gas.id, gas.name]));

export const gasName = (id: string): string => NAMES.get(id) ?? id;
