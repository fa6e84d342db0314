/** Prints the figures; returns them for a file. */
import { median } from '../../../shared/analysis/robust.ts';
import { nothingSpent } from './observer.ts';
import { CHARTS } from './rivals.ts';
import { alarmSaid, isRight, parted, scoreConditions, scoreQuiet, scoreRivals, scoreSureness } from './score.ts';
import type { GrowthResult, Instance, QuietResult, Result } from './work.ts';

const say = (...lines: string[]): void => {
  for (const line of lines) console.log(line);
};
const title = (text: string) => say('', text, '─'.repeat(text.length));
const row = (cells: readonly (string | number | null)[], widths: readonly number[]) =>
  say(
    cells
      .map((cell, i) => (i === 0 ? String(cell).padEnd(widths[0]!) : String(cell ?? '–').padStart(widths[i]!)))
      .join(' '),
  );
const rate = (value: number) => value.toFixed(3);
const percent = (hits: number, of: number) => (of === 0 ? '–' : `${((100 * hits) / of).toFixed(1)} %`);
const counts = (record: Readonly<Record<string, number>>) =>
  Object.entries(record)
    .sort(([, a], [, b]) => b - a)
    .map(([key, count]) => `${key} ${count}`)
    .join(', ') || 'none';

/** Goals, all on seeds that nobody has tuned on. */
const GOALS = { perMonth: 0.05, highPerMonth: 0.01 };

export function printReport(results: readonly Result[], { seeds }: { readonly seeds: string }) {
  const { quiet, conditions, growths } = parted(results);
  const instances = conditions.flatMap((result) => result.instances);
  const real = instances.filter(({ lookAlike }) => !lookAlike);
  say(`Seeds: ${seeds}. Simulated throughout.`);
  const quietScore = quiet.length > 0 ? reportQuiet(quiet) : null;
  const conditionScores = real.length > 0 ? reportConditions(real) : null;
  const sureness = real.length > 0 ? reportSureness(real) : null;
  const lookAlikes = instances.length > 0 ? reportLookAlikes(instances) : null;
  if (conditions.length > 0) {
    const before = conditions.flatMap((result) => result.before.map((alarm) => ({ seed: result.seed, alarm })));
    const days = conditions.reduce((sum, result) => sum + result.headDays, 0);
    title(`Before the onset, ${(days / 30).toFixed(1)} chamber-months: ${before.length} alarms`);
    for (const { seed, alarm } of before) say(`  seed ${seed}: ${alarmSaid(alarm)}`);
  }
  const growth = growths.length > 0 ? reportGrowth(growths) : null;
  const blind = reportBlindness(real);
  const rivals = quiet.length > 0 && real.length > 0 ? reportRivals(quiet, real, 'all chambers') : null;
  // Where no gas is let in: what is easy for a chart as well.
  const baked = <T extends { readonly chamber: string }>(list: readonly T[]) =>
    list.filter(({ chamber }) => chamber.startsWith('baked'));
  const easy = [baked(quiet), baked(real)] as const;
  const rivalsAtEase = easy[0].length > 0 && easy[1].length > 0 ? reportRivals(...easy, 'baked chambers alone') : null;
  const speed = reportSpeed(results);
  return {
    quiet: quietScore,
    conditions: conditionScores,
    sureness,
    lookAlikes,
    growth,
    blind,
    rivals,
    rivalsAtEase,
    speed,
  };
}

function reportQuiet(quiet: readonly QuietResult[]) {
  const score = scoreQuiet(quiet);
  title(`While nothing is wrong: ${score.chambers} chambers, ${score.months.toFixed(0)} chamber-months`);
  const between = ([low, high]: readonly [number, number]) => `${rate(low)} to ${rate(high)}`;
  say(
    `false alarms ${score.alarms}: ${rate(score.perMonth)} per chamber-month, 95 % ${between(score.poisson95)} (Poisson), ${between(score.resampled95)} (chambers resampled); goal ${GOALS.perMonth} ${score.perMonth <= GOALS.perMonth ? 'met' : 'NOT MET'}`,
    `of high priority ${rate(score.highPerMonth)} per chamber-month, 95 % ${between(score.highPoisson95)}; goal ${GOALS.highPerMonth} ${score.highPerMonth <= GOALS.highPerMonth ? 'met' : 'NOT MET'}`,
    `chambers with one or more: ${score.chambersWithAlarm} of ${score.chambers}; while the gateway had said nothing of a state: ${score.whileUndeclared}`,
    `newest scan doubted in ${(100 * score.doubtedShare).toFixed(3)} % of the watched hours`,
    `by priority: ${counts(score.byPriority)}`,
    `by signature: ${counts(score.bySignature)}`,
    ...score.list.map((line) => `  ${line}`),
  );
  return score;
}

function reportConditions(real: readonly Instance[]) {
  const scores = scoreConditions(real);
  title('What is found, after how many scans, under which name');
  const widths = [42, 4, 6, 6, 6, 7, 7, 7, 7, 7, 6];
  row(['condition, size', 'n', 'found', '≤ 3', '≤ 30', 'median', '95 %', 'right', 'in two', 'cannot', 'more'], widths);
  for (const score of scores) {
    const { condition, size, instances, found, within3, within30, medianScans, scans95 } = score;
    row(
      [
        `${condition}, ${size}`,
        instances,
        found,
        within3,
        within30,
        medianScans,
        scans95,
        score.rightFirst,
        score.rightInTwo,
        score.cannotTell,
        score.furtherAlarms,
      ],
      widths,
    );
    if (Object.keys(score.wrong).length > 0) say(`      taken for: ${counts(score.wrong)}`);
  }
  const sum = (of: (score: (typeof scores)[number]) => number) => scores.reduce((total, score) => total + of(score), 0);
  const found = sum((score) => score.found);
  say(
    `all: found ${found} of ${real.length}; right first ${percent(
      sum((s) => s.rightFirst),
      found,
    )}, in two ${percent(
      sum((s) => s.rightInTwo),
      found,
    )}, cannot tell ${percent(
      sum((s) => s.cannotTell),
      found,
    )}`,
  );
  for (const [name, idle] of [
    ['onset at rest', true],
    ['onset in or within an hour of another state', false],
  ] as const) {
    const part = scoreConditions(real.filter((instance) => instance.idle === idle));
    const of = (pick: (score: (typeof scores)[number]) => number) =>
      part.reduce((total, score) => total + pick(score), 0);
    say(
      `${name}: ${of((s) => s.instances)} instances, found ${of((s) => s.found)}, within 3 scans ${of((s) => s.within3)}, right first ${of((s) => s.rightFirst)}, in two ${of((s) => s.rightInTwo)}`,
    );
  }
  say('Not found, or under a wrong name:');
  for (const instance of real) {
    const first = instance.alarms[0];
    if (instance.condition === 'silence' || (first && isRight(instance))) continue;
    const became = first
      ? `${first.signature} after ${first.scans} scans (${first.sureness}; or ${first.alternatives[0] ?? 'nothing else'})`
      : 'nothing';
    say(
      `  seed ${instance.seed} (${instance.chamber}${instance.idle ? '' : '; not at rest'}): ${instance.condition}, ${instance.size}: ${became}`,
    );
  }
  return scores;
}

function reportSureness(real: readonly Instance[]) {
  const score = scoreSureness(real);
  title('How sure it is, and how often it is right');
  const widths = [24, 7, 7, 9, 18, 10];
  row(['word', 'alarms', 'right', 'share', '95 %', 'its odds'], widths);
  for (const { word, alarms, right, share95, meanOdds } of score.words) {
    const [low, high] = share95;
    row(
      [
        word,
        alarms,
        right,
        percent(right, alarms),
        alarms === 0 ? '–' : `${(100 * low).toFixed(0)} to ${(100 * high).toFixed(0)} %`,
        meanOdds?.toFixed(3) ?? null,
      ],
      widths,
    );
  }
  say(
    score.brier === null
      ? 'no odds, no Brier score'
      : `Brier score ${score.brier.toFixed(4)} over ${score.odds} alarms with odds`,
  );
  return score;
}

function reportLookAlikes(instances: readonly Instance[]) {
  const scores = scoreConditions(instances.filter(({ lookAlike }) => lookAlike));
  title('What only looks like it: none of it should call');
  for (const { condition, size, instances: n, found, wrong } of scores) {
    say(`  ${condition}, ${size}: ${found} of ${n} called${found > 0 ? ` (${counts(wrong)})` : ''}`);
  }
  for (const { lookAlike, seed, chamber, condition, alarms } of instances) {
    if (lookAlike && alarms[0])
      say(`  seed ${seed} (${chamber}): ${condition}: ${alarmSaid(alarms[0])}, after ${alarms[0].scans} scans`);
  }
  return scores;
}

function reportGrowth(growths: readonly GrowthResult[]) {
  title('Ten per cent a week: days after the band of 0.1 decade was left');
  return [...new Set(growths.map(({ growth }) => growth))].map((growth) => {
    const of = growths.filter((result) => result.growth === growth);
    const found = of.flatMap(({ foundDays }) => foundDays ?? []);
    const inWeek = found.filter((days) => days <= 7).length;
    const early = found.filter((days) => days < 0).length;
    const middle = found.length === 0 ? null : median(found);
    say(
      `${growth}: ${inWeek} of ${of.length} within a week (${early} of them before it was left), ${found.length} in all, median ${middle?.toFixed(1) ?? '–'} d`,
      ...of
        .filter(({ foundDays }) => foundDays === null || foundDays > 7)
        .map(
          ({ seed, foundDays, others }) =>
            `  seed ${seed}: ${foundDays === null ? 'not found' : `${foundDays.toFixed(1)} d`}; meanwhile ${others.map(alarmSaid).join('; ') || 'nothing'}`,
        ),
    );
    return { growth, instances: of.length, withinWeek: inWeek, found: found.length, medianDays: middle };
  });
}

function reportBlindness(real: readonly Instance[]) {
  const blind = real.filter(({ blindness }) => blindness !== null);
  if (blind.length === 0) return null;
  title('Blind hours, and those that the round showed as healthy');
  return [...new Set(blind.map(({ condition, size }) => `${condition}, ${size}`))].map((name) => {
    const of = blind
      .filter(({ condition, size }) => `${condition}, ${size}` === name)
      .map(({ blindness }) => blindness!);
    const hours = of.reduce((sum, { hours }) => sum + hours, 0);
    const healthy = of.reduce((sum, { shownHealthyHours }) => sum + shownHealthyHours, 0);
    const said = of.flatMap(({ firstSaidHours }) => firstSaidHours ?? []);
    say(
      `  ${name}: ${healthy.toFixed(1)} of ${hours.toFixed(0)} h; not said at all in ${of.length - said.length} of ${of.length}; longest until it was said ${said.length === 0 ? '–' : `${Math.max(...said).toFixed(2)} h`}`,
    );
    return { name, hours, shownHealthyHours: healthy, neverSaid: of.length - said.length };
  });
}

function reportRivals(quiet: readonly QuietResult[], real: readonly Instance[], where: string) {
  const score = scoreRivals(quiet, real);
  title(
    `Charts on single gases, ${where}, that call as often (${score.alarms} times on the same quiet scans): found within 3 / 30 / all scans`,
  );
  say(
    `thresholds: ${CHARTS.map((chart) => `${chart} ${score.thresholds[chart].toPrecision(3)}${chart === 'limit' ? ' decades' : ''}`).join(', ')}`,
  );
  const widths = [42, 4, 14, ...CHARTS.map(() => 14)];
  row(['condition, size', 'n', 'the watch', ...CHARTS], widths);
  const three = (counted: readonly number[]) => counted.join(' / ');
  for (const { condition, size, instances, watch, charts } of score.rows) {
    row([`${condition}, ${size}`, instances, three(watch), ...CHARTS.map((chart) => three(charts[chart]))], widths);
  }
  return score;
}

function reportSpeed(results: readonly Result[]) {
  if (results.length === 0) return null;
  const total = nothingSpent();
  for (const { spent } of results)
    for (const key of Object.keys(total) as (keyof typeof total)[]) total[key] += spent[key];
  const clock = total.clockMicroseconds / total.anchors;
  const watch = total.watchMicroseconds / total.scans - clock;
  const analysis = total.analysisMicroseconds / total.scans - clock;
  const anchor = total.anchorMicroseconds / total.anchors;
  title('Speed');
  say(
    `the watch ${watch.toFixed(0)} µs of processor time a scan over ${total.scans} scans: ${(watch / analysis).toFixed(2)} of the analysis of the same scans (${analysis.toFixed(0)} µs), ${(watch / anchor).toFixed(1)} times 10,000 sums of products (${anchor.toFixed(1)} µs); the clock's own ${clock.toFixed(0)} µs are taken off`,
  );
  return { scans: total.scans, watchMicroseconds: watch, analysisMicroseconds: analysis, anchorMicroseconds: anchor };
}
