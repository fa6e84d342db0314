/** Pieces of the bench that can run beside each other, and what each gives. */
import type { Signature } from '../../../shared/contract/words.ts';
import { doubtOf } from '../../../shared/watch/doubt.ts';
import { ARMED_STATES } from '../../../shared/watch/states.ts';
import type { Finding, WatchEvent } from '../../../shared/watch/types.ts';
import { seededRandom } from '../../support/instrument.ts';
import { type Blindness, blindness } from './blindness.ts';
import { type Chamber, makeChamber } from './chamber.ts';
import { CONDITIONS, type Condition, LOOK_ALIKES, rollDice } from './conditions.ts';
import { GROWTHS, type Growth, SECONDS_TO_LEAVE_BAND } from './growth.ts';
import { DAY, HOUR } from './hall.ts';
import { type Course, nothingSpent, type Observer, observe, type Spent, startCourse, take } from './observer.ts';
import { BLOCK_SECONDS, CHARTS, type ChartReading } from './rivals.ts';
import { type Arrival, arrivals } from './stream.ts';

export type Task =
  | { readonly kind: 'quiet'; readonly seed: number; readonly days: number }
  | { readonly kind: 'conditions'; readonly seed: number }
  | { readonly kind: 'growth'; readonly seed: number; readonly growth: Growth };

export interface Alarm {
  readonly seconds: number;
  readonly signature: Signature;
  readonly alternatives: readonly Signature[];
  readonly priority: string;
  readonly sureness: Finding['sureness'];
  readonly odds: number | null;
  readonly state: string;
  readonly declared: boolean;
}

export interface QuietResult {
  readonly kind: 'quiet';
  readonly seed: number;
  readonly chamber: string;
  readonly days: number;
  readonly alarms: readonly Alarm[];
  /** Largest chart readings, one per block of twelve hours. */
  readonly blocks: readonly ChartReading[];
  /** Of armed states, and those of them in which the newest scan was doubted. */
  readonly hours: number;
  readonly doubtedHours: number;
  readonly spent: Spent;
}

export interface Instance {
  readonly condition: string;
  readonly lookAlike: boolean;
  readonly size: number;
  readonly seed: number;
  readonly chamber: string;
  /** At the onset the chamber had been in base for more than an hour. */
  readonly idle: boolean;
  readonly names: readonly Signature[];
  /** After the onset. */
  readonly alarms: readonly (Alarm & { readonly scans: number })[];
  /** Largest chart readings within 3 scans, 30 scans, all. */
  readonly charts: readonly [ChartReading, ChartReading, ChartReading];
  readonly blindness: Blindness | null;
}

export interface ConditionsResult {
  readonly kind: 'conditions';
  readonly seed: number;
  readonly before: readonly Alarm[];
  readonly headDays: number;
  readonly instances: readonly Instance[];
  readonly spent: Spent;
}

export interface GrowthResult {
  readonly kind: 'growth';
  readonly seed: number;
  readonly growth: Growth;
  /** Days after the band of 0.1 decade was left; negative: before; null: not found. */
  readonly foundDays: number | null;
  readonly before: readonly Alarm[];
  readonly others: readonly Alarm[];
  readonly spent: Spent;
}

export type Result = QuietResult | ConditionsResult | GrowthResult;

export function work(task: Task): Result {
  if (task.kind === 'quiet') return quiet(task.seed, task.days);
  if (task.kind === 'conditions') return conditions(task.seed);
  return growing(task.seed, task.growth);
}

const saidOf = ({ kind, analyser }: Chamber): string =>
  `${kind}, ${analyser.form}, ${analyser.unit}, ${analyser.periodSeconds} s${analyser.hasGauge ? '' : ', no gauge'}${analyser.tellsTemperature ? '' : ', no temperature'}`;

const isRaised = (event: WatchEvent): event is WatchEvent & { kind: 'raised' } => event.kind === 'raised';

const alarmsOf = (events: readonly WatchEvent[], { seconds, state, declared }: Arrival): Alarm[] =>
  events.filter(isRaised).map(({ signature, priority, finding }) => ({
    seconds,
    signature,
    alternatives: finding.alternatives.map((alternative) => alternative.signature),
    priority,
    sureness: finding.sureness,
    odds: finding.odds ?? null,
    state,
    declared,
  }));

const noReading = (): ChartReading => ({ limit: 0, 'single values': 0, EWMA: 0, CUSUM: 0 });
const raiseTo = (highest: ChartReading, reading: ChartReading | null): void => {
  if (reading) for (const chart of CHARTS) highest[chart] = Math.max(highest[chart], reading[chart]);
};

function quiet(seed: number, days: number): QuietResult {
  const chamber = makeChamber(seed);
  const observer = observe(chamber);
  const course = startCourse();
  const spent = nothingSpent();
  const alarms: Alarm[] = [];
  const blocks = new Map<number, ChartReading>();
  const seconds = { watched: 0, doubted: 0 };
  let last = 0;
  for (const arrival of arrivals(chamber, { days, run: 1, vents: true })) {
    const observed = take(observer, course, arrival, spent);
    if (!observed) continue;
    const { state, notes } = observed.step;
    const passed = Math.min(arrival.seconds - last, chamber.analyser.periodSeconds);
    last = arrival.seconds;
    if (ARMED_STATES.has(state)) seconds.watched += passed;
    if (doubtOf(notes) !== null) seconds.doubted += passed;
    alarms.push(...alarmsOf(observed.events, arrival));
    if (!course.charts.reading) continue;
    const block = Math.floor(arrival.seconds / BLOCK_SECONDS);
    if (!blocks.has(block)) blocks.set(block, noReading());
    raiseTo(blocks.get(block)!, course.charts.reading);
  }
  return {
    kind: 'quiet',
    seed,
    chamber: saidOf(chamber),
    days,
    alarms,
    blocks: [...blocks.values()],
    hours: seconds.watched / HOUR,
    doubtedHours: seconds.doubted / HOUR,
    spent,
  };
}

interface Head {
  readonly chamber: Chamber;
  readonly observer: Observer;
  readonly course: Course;
  readonly onset: number;
  readonly idle: boolean;
  readonly spent: Spent;
}

const FAULT_RUN = 2;

/** One quiet beginning, and every condition in every size from there. */
function conditions(seed: number): ConditionsResult {
  const chamber = makeChamber(seed);
  const observer = observe(chamber);
  const course = startCourse();
  const spent = nothingSpent();
  const random = seededRandom(seed * 31 + 7);
  const onset = random.between(3.5, 6) * DAY;
  const before: Alarm[] = [];
  let state = 'base';
  let since = Number.NEGATIVE_INFINITY;
  for (const arrival of arrivals(chamber, { days: onset / DAY, run: FAULT_RUN, vents: false })) {
    if (arrival.state !== state) since = arrival.seconds;
    state = arrival.state;
    before.push(...alarmsOf(take(observer, course, arrival, spent)?.events ?? [], arrival));
  }
  const head = { chamber, observer, course, onset, idle: state === 'base' && onset - since > HOUR, spent };
  const instances: Instance[] = [];
  for (const [lookAlike, list] of [
    [false, CONDITIONS],
    [true, LOOK_ALIKES],
  ] as const) {
    for (const [name, condition] of Object.entries(list)) {
      if (condition.needs?.(chamber) === false) continue;
      for (const size of condition.sizes) instances.push(instanceOf(head, { name, condition, size, lookAlike }));
    }
  }
  return { kind: 'conditions', seed, before, headDays: onset / DAY, instances, spent };
}

interface Story {
  readonly name: string;
  readonly condition: Condition;
  readonly size: number;
  readonly lookAlike: boolean;
}

const nameNumber = (name: string): number =>
  [...name].reduce((hash, letter) => (Math.imul(hash, 31) + letter.charCodeAt(0)) & 0xffff, 7);

function instanceOf(head: Head, { name, condition, size, lookAlike }: Story): Instance {
  const { chamber, observer, onset, spent } = head;
  const course = structuredClone(head.course);
  const dice = rollDice(seededRandom(chamber.seed * 131 + nameNumber(name) + Math.round(1000 * size)));
  const alarms: Instance['alarms'][number][] = [];
  const charts: Instance['charts'] = [noReading(), noReading(), noReading()];
  const eye = condition.blinds ? blindness(chamber, course, onset) : null;
  const until = onset + Math.min(condition.hours * HOUR, condition.scans * chamber.analyser.periodSeconds);
  const stream = arrivals(chamber, {
    days: until / DAY,
    run: FAULT_RUN,
    vents: false,
    fromSeconds: onset,
    effectAt: (t) => (t < onset ? {} : condition.effect({ chamber, size, age: t - onset, dice })),
  });
  let scans = 0;
  for (const arrival of stream) {
    const observed = take(observer, course, arrival, spent);
    if (!observed) continue;
    scans++;
    eye?.look(arrival, observed);
    alarms.push(...alarmsOf(observed.events, arrival).map((alarm) => ({ ...alarm, scans })));
    if (scans <= 3) raiseTo(charts[0], course.charts.reading);
    if (scans <= 30) raiseTo(charts[1], course.charts.reading);
    raiseTo(charts[2], course.charts.reading);
  }
  return {
    condition: name,
    lookAlike,
    size,
    seed: chamber.seed,
    chamber: saidOf(chamber),
    idle: head.idle,
    names: condition.names(chamber),
    alarms,
    charts,
    blindness: eye?.close(until) ?? null,
  };
}

const GROWTH_QUIET_DAYS = 7;
/** Past the end of the week in which it is to be found. */
const GROWTH_REST_DAYS = 18;

/** Ten per cent a week after a quiet week; scans no faster than five minutes, since it lasts for six weeks. */
function growing(seed: number, growth: Growth): GrowthResult {
  const made = makeChamber(seed);
  const periodSeconds = Math.max(300, made.analyser.periodSeconds);
  const chamber = { ...made, analyser: { ...made.analyser, periodSeconds, bursts: false, form: 'bars' as const } };
  const observer = observe(chamber);
  const course = startCourse();
  const spent = nothingSpent();
  const onset = GROWTH_QUIET_DAYS * DAY;
  const left = onset + SECONDS_TO_LEAVE_BAND;
  const { signature, effect } = GROWTHS[growth];
  const alarms: Alarm[] = [];
  const stream = arrivals(chamber, {
    days: left / DAY + GROWTH_REST_DAYS,
    run: 3,
    vents: false,
    effectAt: (age) => effect({ chamber, age, onset }),
  });
  for (const arrival of stream) {
    alarms.push(...alarmsOf(take(observer, course, arrival, spent)?.events ?? [], arrival));
    if (alarms.some((alarm) => alarm.signature === signature && alarm.seconds >= onset)) break;
  }
  const found = alarms.find((alarm) => alarm.signature === signature && alarm.seconds >= onset);
  return {
    kind: 'growth',
    seed,
    growth,
    foundDays: found ? (found.seconds - left) / DAY : null,
    before: alarms.filter(({ seconds }) => seconds < onset),
    others: alarms.filter((alarm) => alarm.seconds >= onset && alarm !== found),
    spent,
  };
}
