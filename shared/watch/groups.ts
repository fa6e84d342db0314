/**
 * Alerts that are told once: chambers in which the same thing began at the same time and which share an area, a foreline,
 * a gas line, a network. One warm hall or one pump is then one call and not forty.
 *
 * Together: of one signature, or of several that one cause at the place gives; begun within a window of each other,
 * chained, so that a cluster that grows stays one. The window is 15 minutes, in which walls and gateways follow their
 * common cause, or three scan periods where they are longer: an alert is raised by its third scan.
 */
import { SIGNATURES_BY_ID } from '../catalogue/signatures.ts';
import { PRIORITIES, type Priority, type Signature } from '../contract/words.ts';
import { duration, list } from './wording.ts';

const MINUTE_MS = 60_000;
export const TOGETHER_MS = 15 * MINUTE_MS;
const PERIODS_TOGETHER = 3;
/** A cluster is cut after a shift: what goes on for longer has been told. */
export const LONGEST_CLUSTER_MS = 8 * 60 * MINUTE_MS;
/** Two may be chance: with 0.05 alerts per chamber and month, three of ten within a quarter of an hour come once in some million years. */
export const LEAST_CHAMBERS = 3;

export interface GroupedAlert {
  readonly id: string;
  readonly chamber: string;
  readonly signature: Signature;
  readonly priority: Priority;
  readonly raisedAtMs: number;
  /** It still needs a person. */
  readonly open: boolean;
}

export interface GroupedChamber {
  readonly id: string;
  /** As people call it. */
  readonly area: string;
  readonly tags: readonly string[];
  /** Seconds between scans; null: unknown. */
  readonly periodSeconds: number | null;
}

/** Contract AlertGroup with times in milliseconds since 1970. */
export interface FoundGroup {
  readonly id: string;
  readonly kind: 'shared cause' | 'flood';
  readonly signature: Signature | null;
  readonly priority: Priority;
  readonly fromMs: number;
  readonly toMs: number;
  readonly shared: readonly string[];
  readonly alerts: readonly string[];
  readonly chambers: readonly string[];
  readonly open: number;
  readonly summary: string;
  readonly firstStep: string;
}

/** A warm hall or a bad foreline shows as any of these, by what a chamber holds most of. */
const LOAD: ReadonlySet<Signature> = new Set(['water', 'hydrogen', 'pumping-loss']);
/** What to look at, beside what the fleet document says that they share. */
const LOOK_AT: Partial<Record<Signature | 'load', string>> = {
  load: 'the temperature of the hall, the cooling water and the foreline',
  silent: 'the network, the gateway and the power of the analysers',
  frozen: 'the gateway that sends their scans',
  'air-leak': 'the vent line, the purge and the compressed air that holds their valves',
  'gas-inleak': 'the gas line that feeds them',
  helium: 'whoever sprays helium, and the helium circuit',
  'hydrocarbon-oil': 'the foreline and its pump',
  perfluoropolyether: 'the foreline and its pump',
};

type Family = Signature | 'load';

interface Place {
  readonly name: string;
  readonly isArea: boolean;
  readonly chambers: ReadonlySet<string>;
}

interface Cluster {
  readonly place: Place;
  readonly family: Family;
  readonly alerts: readonly GroupedAlert[];
  /** Of them, and how telling that is. */
  readonly chambers: number;
  readonly telling: number;
}

const familyOf = (signature: Signature): Family => (LOAD.has(signature) ? 'load' : signature);
const chambersOf = (alerts: readonly GroupedAlert[]): string[] => [...new Set(alerts.map(({ chamber }) => chamber))];
const byTime = (a: GroupedAlert, b: GroupedAlert): number => a.raisedAtMs - b.raisedAtMs || (a.id < b.id ? -1 : 1);

function placesOf(chambers: readonly GroupedChamber[]): Place[] {
  const places = new Map<string, { name: string; isArea: boolean; chambers: Set<string> }>();
  const add = (name: string, isArea: boolean, chamber: string) => {
    const key = `${isArea} ${name}`;
    const place = places.get(key) ?? { name, isArea, chambers: new Set<string>() };
    place.chambers.add(chamber);
    places.set(key, place);
  };
  for (const { id, area, tags } of chambers) {
    add(area, true, id);
    for (const tag of new Set(tags)) add(tag, false, id);
  }
  return [...places.values()].filter((place) => place.chambers.size >= LEAST_CHAMBERS);
}

function placesByChamber(places: readonly Place[]): ReadonlyMap<string, readonly Place[]> {
  const at = new Map<string, Place[]>();
  for (const place of places)
    for (const chamber of place.chambers) at.set(chamber, [...(at.get(chamber) ?? []), place]);
  return at;
}

/** @param alerts of one family and one place, in time order */
function clustered(alerts: readonly GroupedAlert[], windowMs: (chamber: string) => number): GroupedAlert[][] {
  const clusters: GroupedAlert[][] = [];
  for (const alert of alerts) {
    const open = clusters.at(-1);
    const isNear = (members: readonly GroupedAlert[]): boolean => {
      const before = last(members);
      const window = Math.max(windowMs(alert.chamber), windowMs(before.chamber));
      return (
        alert.raisedAtMs - before.raisedAtMs <= window &&
        alert.raisedAtMs - first(members).raisedAtMs <= LONGEST_CLUSTER_MS
      );
    };
    if (open && isNear(open)) open.push(alert);
    else clusters.push([alert]);
  }
  return clusters;
}

/** Many chambers, and most of those that are there: all five on one foreline say more than six of forty in a hall. */
function clusterOf(place: Place, family: Family, alerts: readonly GroupedAlert[]): Cluster {
  const chambers = chambersOf(alerts).length;
  return { place, family, alerts, chambers, telling: chambers ** 2 / place.chambers.size };
}
const first = (alerts: readonly GroupedAlert[]): GroupedAlert => alerts[0] as GroupedAlert;
const last = (alerts: readonly GroupedAlert[]): GroupedAlert => alerts.at(-1) as GroupedAlert;

function moreTelling(a: Cluster, b: Cluster): number {
  return (
    b.telling - a.telling ||
    Number(a.place.isArea) - Number(b.place.isArea) ||
    byTime(first(a.alerts), first(b.alerts)) ||
    (a.place.name < b.place.name ? -1 : 1)
  );
}

const isEnough = ({ chambers }: Cluster): boolean => chambers >= LEAST_CHAMBERS;

/** Clusters of times that do not touch have no alert in common and are chosen among for themselves. */
function apart(clusters: readonly Cluster[]): Cluster[][] {
  const parts: Cluster[][] = [];
  let untilMs = Number.NEGATIVE_INFINITY;
  for (const cluster of [...clusters].sort((a, b) => first(a.alerts).raisedAtMs - first(b.alerts).raisedAtMs)) {
    if (first(cluster.alerts).raisedAtMs > untilMs) parts.push([]);
    parts.at(-1)?.push(cluster);
    untilMs = Math.max(untilMs, last(cluster.alerts).raisedAtMs);
  }
  return parts;
}

/** Takes the most telling cluster, then of what is left the next. */
function chosen(candidates: readonly Cluster[]): Cluster[] {
  const taken = new Set<string>();
  const found: Cluster[] = [];
  for (let left = candidates.filter(isEnough); left.length > 0; ) {
    const best = left.reduce((a, b) => (moreTelling(a, b) <= 0 ? a : b));
    found.push(best);
    for (const { id } of best.alerts) taken.add(id);
    left = left.flatMap((cluster) => {
      const rest = cluster.alerts.filter(({ id }) => !taken.has(id));
      if (rest.length === cluster.alerts.length) return [cluster];
      return [clusterOf(cluster.place, cluster.family, rest)].filter(isEnough);
    });
  }
  return found;
}

/**
 * The alerts that share a cause, told once; each alert is in one group at most. The same alerts and chambers give the
 * same groups with the same ids, in any order.
 */
export function sharedCauses(alerts: readonly GroupedAlert[], chambers: readonly GroupedChamber[]): FoundGroup[] {
  const periods = new Map(chambers.map(({ id, periodSeconds }) => [id, periodSeconds ?? 0]));
  const windowMs = (chamber: string) => Math.max(TOGETHER_MS, PERIODS_TOGETHER * 1000 * (periods.get(chamber) ?? 0));
  const places = placesOf(chambers);
  const placesAt = placesByChamber(places);
  const families = new Map<Family, GroupedAlert[]>();
  for (const alert of [...alerts].sort(byTime)) {
    const family = familyOf(alert.signature);
    const own = families.get(family);
    if (own) own.push(alert);
    else families.set(family, [alert]);
  }
  const found = [...families].flatMap(([family, own]) => {
    const there = new Map<Place, GroupedAlert[]>();
    for (const alert of own)
      for (const place of placesAt.get(alert.chamber) ?? []) {
        const known = there.get(place);
        if (known) known.push(alert);
        else there.set(place, [alert]);
      }
    const candidates = [...there].flatMap(([place, members]) =>
      clustered(members, windowMs).map((cluster) => clusterOf(place, family, cluster)),
    );
    return apart(candidates.filter(isEnough))
      .flatMap(chosen)
      .map((cluster) => groupOf(cluster, placesAt));
  });
  return found.sort((a, b) => a.fromMs - b.fromMs || (a.id < b.id ? -1 : 1));
}

const highest = (alerts: readonly GroupedAlert[]): Priority =>
  PRIORITIES.find((word) => alerts.some(({ priority }) => priority === word)) ?? 'low';

function groupOf({ family, alerts }: Cluster, placesAt: ReadonlyMap<string, readonly Place[]>): FoundGroup {
  const chambers = chambersOf(alerts);
  const shared = (placesAt.get(first(alerts).chamber) ?? []).filter((place) =>
    chambers.every((chamber) => place.chambers.has(chamber)),
  );
  const names = [...shared]
    .sort(
      (a, b) => a.chambers.size - b.chambers.size || Number(a.isArea) - Number(b.isArea) || (a.name < b.name ? -1 : 1),
    )
    .map(({ name }) => name);
  const signatures = [...new Set(alerts.map(({ signature }) => signature))];
  const titles = list(signatures.map((signature) => SIGNATURES_BY_ID[signature].title.toLowerCase()));
  const fromMs = first(alerts).raisedAtMs;
  const toMs = last(alerts).raisedAtMs;
  const within = toMs > fromMs ? `within ${duration((toMs - fromMs) / 1000)}` : 'at the same time';
  const lookAt = LOOK_AT[family];
  return {
    id: `shared-${first(alerts).id}`,
    kind: 'shared cause',
    signature: signatures.length === 1 ? (signatures[0] as Signature) : null,
    priority: highest(alerts),
    fromMs,
    toMs,
    shared: names,
    alerts: alerts.map(({ id }) => id),
    chambers,
    open: alerts.filter(({ open }) => open).length,
    summary: `${chambers.length} chambers, one cause by the look of it: ${titles}, ${within}. They share ${list(names)}.`,
    firstStep: `First look for what they share: ${list(names)}${lookAt ? `; ${lookAt}` : ''}.`,
  };
}

export const groupOfAlerts = (groups: readonly FoundGroup[]): ReadonlyMap<string, string> =>
  new Map(groups.flatMap(({ id, alerts }) => alerts.map((alert): [string, string] => [alert, id])));
