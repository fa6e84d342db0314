import { catalogue } from './catalogue.ts';
import { many } from './plural.ts';

/** The spectrum of one scan. */
export const words = catalogue({
  title: 'Spectrum',
  what: 'The spectrum',
  scale: 'Scale',
  scales: { log: 'log', linear: 'linear' },
  drawing: 'Drawing',
  drawings: { bars: 'bars', profile: 'profile' },
  noProfile: 'This analyser sends one value for each mass: there is no profile to draw.',
  ghost: 'behind it',
  ghosts: { usual: 'what is usual', none: 'nothing', before: 'the scan before', cross: 'the scan at the cross-hair' },
  ghostAt: (time: string) => `the scan of ${time}`,
  howLog:
    'Height is the peak, on the log axis. The parts inside a bar are shares of it on a linear scale: half of the bar is half of the peak, wherever the axis stands.',
  howLinear: 'Height is the peak. The parts inside a bar are shares of it.',
  howProfile: 'All points of the scan as it was sent, in its own unit; nothing is taken off.',

  scan: 'Scan',
  scanAt: 'scan at',
  scanField: '2026-11-27 06:04',
  before: 'The scan before',
  after: 'The scan after',
  newest: 'Newest',
  atCross: 'At the cross-hair',
  workingOut: (time: string) => `The peaks of ${time} are being worked out: only those of the newest scan are kept.`,
  again: (calibration: string, catalogue: string) =>
    `Worked out again for this page, with calibration ${calibration} and catalogue ${catalogue}.`,
  sweeps: (n: number) => many(n, { one: 'sweep', other: 'sweeps' }),
  usualLegend: 'usual',
  earlierLegend: (time: string) => `scan of ${time}`,

  table: 'The peaks as a table',
  mass: 'Mass',
  height: (unit: string) => `Height, ${unit}, N₂-equivalent`,
  usual: (unit: string) => `Usual, ${unit}`,
  parts: 'Explained by',
  unexplained: 'unexplained',
  part: (gas: string, share: string) => `${gas} ${share}`,
  percent: (value: string) => `${value}\u00a0%`,
  noneAbove: 'No peak stands above the floor.',

  says: (first: string, last: string, shares: string) =>
    `Spectrum from ${first} to ${last} u, each peak divided by the gases that explain it: ${shares}.`,
  saysStrange: (first: string, last: string, shares: string, strange: string) =>
    `Spectrum from ${first} to ${last} u, each peak divided by the gases that explain it: ${shares}; unexplained peaks at ${strange}.`,
  saysProfile: (first: string, last: string, unit: string, mass: string, value: string) =>
    `Profile of the scan from ${first} to ${last} u in ${unit}; its largest value is ${value} at ${mass} u.`,
});
