/** From results to figures. */
import { median, quantileOfSorted, sortedNumbers } from '../../../shared/analysis/robust.ts';
import { poissonInterval, resampledInterval, shareInterval } from './intervals.ts';
import { CHARTS, type Chart, thresholdOf } from './rivals.ts';
import type { Alarm, ConditionsResult, GrowthResult, Instance, QuietResult, Result } from './work.ts';

export function parted(results: readonly Result[]) {
  return {
    quiet: results.filter((result): result is QuietResult => result.kind === 'quiet'),
    conditions: results.filter((result): result is ConditionsResult => result.kind === 'conditions'),
    growths: results.filter((result): result is GrowthResult => result.kind === 'growth'),
  };
}

const countBy = <T>(items: readonly T[], key: (item: T) => string): Record<string, number> => {
  const out: Record<string, number> = {};
  for (const item of items) out[key(item)] = (out[key(item)] ?? 0) + 1;
  return out;
};

export interface QuietScore {
  readonly chambers: number;
  readonly months: number;
  readonly alarms: number;
  readonly perMonth: number;
  readonly poisson95: readonly [number, number];
  readonly resampled95: readonly [number, number];
  readonly chambersWithAlarm: number;
  readonly byPriority: Readonly<Record<string, number>>;
  readonly highPerMonth: number;
  readonly highPoisson95: readonly [number, number];
  readonly bySignature: Readonly<Record<string, number>>;
  /** Raised while the chamber did something that its gateway had not said. */
  readonly whileUndeclared: number;
  /** Share of the watched hours in which the newest scan was doubted, though nothing was wrong with it. */
  readonly doubtedShare: number;
  readonly list: readonly string[];
}

const DAY = 86_400;
export const alarmSaid = ({ seconds, signature, priority, sureness, state, declared }: Alarm): string =>
  `${(seconds / DAY).toFixed(2)} d, ${signature}, ${priority}, ${sureness}, in ${state}${declared ? '' : ' (not declared)'}`;

export function scoreQuiet(quiet: readonly QuietResult[]): QuietScore {
  const months = quiet.reduce((sum, { days }) => sum + days / 30, 0);
  const alarms = quiet.flatMap((result) => result.alarms);
  const high = alarms.filter(({ priority }) => priority === 'high').length;
  const per = ([low, most]: [number, number]): [number, number] => [low / months, most / months];
  return {
    chambers: quiet.length,
    months,
    alarms: alarms.length,
    perMonth: alarms.length / months,
    poisson95: per(poissonInterval(alarms.length)),
    resampled95: per(resampledInterval(quiet.map((result) => result.alarms.length))),
    chambersWithAlarm: quiet.filter((result) => result.alarms.length > 0).length,
    byPriority: countBy(alarms, ({ priority }) => priority),
    highPerMonth: high / months,
    highPoisson95: per(poissonInterval(high)),
    bySignature: countBy(alarms, ({ signature }) => signature),
    whileUndeclared: alarms.filter(({ declared }) => !declared).length,
    doubtedShare:
      quiet.reduce((sum, { doubtedHours }) => sum + doubtedHours, 0) / quiet.reduce((sum, { hours }) => sum + hours, 0),
    list: quiet.flatMap(({ seed, chamber, alarms: own }) =>
      own.map((alarm) => `seed ${seed} (${chamber}): ${alarmSaid(alarm)}`),
    ),
  };
}

export interface ConditionScore {
  readonly condition: string;
  readonly size: number;
  readonly instances: number;
  readonly found: number;
  readonly within3: number;
  readonly within30: number;
  readonly medianScans: number | null;
  readonly scans95: number | null;
  readonly rightFirst: number;
  readonly rightInTwo: number;
  readonly cannotTell: number;
  readonly wrong: Readonly<Record<string, number>>;
  readonly furtherAlarms: number;
}

const grouped = (instances: readonly Instance[]): Map<string, Instance[]> => {
  const out = new Map<string, Instance[]>();
  for (const instance of instances) {
    const key = `${instance.condition}|${instance.size}`;
    out.set(key, [...(out.get(key) ?? []), instance]);
  }
  return out;
};

/** Silence is found by the clock, not by a scan. */
export const foundBy = ({ condition, alarms, blindness }: Instance): { scans: number } | null => {
  if (condition === 'silence') return blindness?.firstSaidHours == null ? null : { scans: 0 };
  return alarms[0] ?? null;
};
export const isRight = (instance: Instance): boolean =>
  instance.condition === 'silence'
    ? foundBy(instance) !== null
    : instance.names.includes(instance.alarms[0]!.signature);
export const isInTwo = (instance: Instance): boolean =>
  isRight(instance) || instance.names.includes(instance.alarms[0]!.alternatives[0]!);

export function scoreConditions(instances: readonly Instance[]): ConditionScore[] {
  return [...grouped(instances).values()].map((group) => {
    const found = group.filter((instance) => foundBy(instance) !== null);
    // What was not found counts as later than anything.
    const scans = sortedNumbers(group.map((instance) => foundBy(instance)?.scans ?? 1e9));
    const finite = (value: number) => (value >= 1e8 ? null : Math.round(value));
    const first = found.flatMap(({ alarms }) => alarms[0] ?? []);
    return {
      condition: group[0]!.condition,
      size: group[0]!.size,
      instances: group.length,
      found: found.length,
      within3: found.filter((instance) => foundBy(instance)!.scans <= 3).length,
      within30: found.filter((instance) => foundBy(instance)!.scans <= 30).length,
      medianScans: finite(median(scans)),
      scans95: finite(quantileOfSorted(scans, 0.95)),
      rightFirst: found.filter(isRight).length,
      rightInTwo: found.filter(isInTwo).length,
      cannotTell: first.filter(({ sureness }) => sureness === 'cannot tell').length,
      wrong: countBy(
        found.filter((instance) => !isRight(instance)),
        (instance) => instance.alarms[0]!.signature,
      ),
      furtherAlarms: found.reduce((sum, { alarms }) => sum + Math.max(0, alarms.length - 1), 0),
    };
  });
}

export interface SurenessScore {
  readonly word: string;
  readonly alarms: number;
  readonly right: number;
  readonly share95: readonly [number, number];
  readonly meanOdds: number | null;
}

const WORDS = ['nearly certain', 'likely', 'more likely than not', 'open', 'cannot tell'] as const;

export function scoreSureness(instances: readonly Instance[]): {
  words: SurenessScore[];
  brier: number | null;
  odds: number;
} {
  const seen = instances.filter(({ alarms }) => alarms.length > 0);
  const squares = seen.flatMap((instance) => {
    const odds = instance.alarms[0]!.odds;
    return odds === null ? [] : [(odds - (isRight(instance) ? 1 : 0)) ** 2];
  });
  const words = WORDS.map((word) => {
    const of = seen.filter(({ alarms }) => alarms[0]!.sureness === word);
    const right = of.filter(isRight).length;
    const odds = of.flatMap(({ alarms }) => alarms[0]!.odds ?? []);
    return {
      word,
      alarms: of.length,
      right,
      share95: shareInterval(right, of.length),
      meanOdds: odds.length === 0 ? null : odds.reduce((a, b) => a + b, 0) / odds.length,
    };
  });
  return {
    words,
    brier: squares.length === 0 ? null : squares.reduce((a, b) => a + b, 0) / squares.length,
    odds: squares.length,
  };
}

export interface RivalScore {
  readonly condition: string;
  readonly size: number;
  readonly instances: number;
  /** Found within 3 scans, 30 scans, at all. */
  readonly watch: readonly [number, number, number];
  readonly charts: Readonly<Record<Chart, readonly [number, number, number]>>;
}

export function scoreRivals(quiet: readonly QuietResult[], instances: readonly Instance[]) {
  const blocks = quiet.flatMap((result) => result.blocks);
  const alarms = quiet.reduce((sum, result) => sum + result.alarms.length, 0);
  const thresholds = Object.fromEntries(
    CHARTS.map((chart) => [
      chart,
      thresholdOf(
        blocks.map((block) => block[chart]),
        alarms,
      ),
    ]),
  ) as Record<Chart, number>;
  const rows = [...grouped(instances).values()].map((group): RivalScore => {
    const count = (is: (instance: Instance) => boolean) => group.filter(is).length;
    return {
      condition: group[0]!.condition,
      size: group[0]!.size,
      instances: group.length,
      watch: [
        count((instance) => (foundBy(instance)?.scans ?? 1e9) <= 3),
        count((instance) => (foundBy(instance)?.scans ?? 1e9) <= 30),
        count((instance) => foundBy(instance) !== null),
      ],
      charts: Object.fromEntries(
        CHARTS.map((chart) => [
          chart,
          [0, 1, 2].map((part) => count(({ charts }) => charts[part as 0 | 1 | 2][chart] > thresholds[chart])),
        ]),
      ) as unknown as RivalScore['charts'],
    };
  });
  return { thresholds, alarms, rows };
}
