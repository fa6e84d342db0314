import { catalogue } from './catalogue.ts';

export const words = catalogue({
  averagingNoLongerHelps: 'averaging no longer helps',
  canBeSeen: (unit: string) => `${unit}, can be seen`,
  sweepsAveraged: 'sweeps averaged',
  relativeSignal: 'relative signal',
  asSent: (unit: string) => `${unit}, as sent`,
  heightNEquivalent: (unit: string) => `height, ${unit}, N₂-equivalent`,
  residualIn: 'residual, in σ',
  massChargeU: 'mass / charge, u',
  dottedFloor: (value: string, unit: string) => `dotted: 3σ floor, ${value} ${unit}`,
  noScans: (age: string) => `no scans ${age}`,
  state: 'state',
  analysersOwnIons: 'analyser’s own ions',
});
