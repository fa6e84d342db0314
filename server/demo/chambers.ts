import { EAST_PLANTS } from './eastBay.ts';
import { HERON_PLANTS } from './heronLine.ts';
import type { Plant } from './plant.ts';

export const PLANTS: readonly Plant[] = [...EAST_PLANTS, ...HERON_PLANTS];
