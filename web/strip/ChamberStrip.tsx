import type { ChamberLine } from '../../shared/contract/readings.ts';
import { useNow } from '../frame/clock.ts';
import { duration, isOld } from '../notation/age.ts';
import { words } from '../strings/strip.ts';
import type { Layout } from './layout.ts';
import { Strip } from './Strip.tsx';
import { secondsSinceScan } from './scanAge.ts';
import type { Condition } from './sentence.ts';

export type StripLine = Pick<
  ChamberLine,
  'health' | 'state' | 'lastScanAt' | 'scanPeriodSeconds' | 'learning' | 'strip'
>;

/**
 * What is known of a chamber now. The server's word for its health is believed, except that a chamber whose last
 * scan has grown old since the server said it is stale: the line to the server may be down.
 */
export function conditionOf(line: StripLine, nowMs: number): Condition {
  const seconds = secondsSinceScan(line, nowMs);
  const age = duration(seconds);
  if (line.lastScanAt === null) return { kind: 'learning', progress: words.noScan };
  if (line.health === 'blind') return { kind: 'blind', age };
  if (line.health === 'unwatched') return { kind: 'unwatched', word: line.state ?? words.unwatched };
  if (line.health === 'stale' || isOld(seconds, line.scanPeriodSeconds)) return { kind: 'stale', age };
  if (line.health === 'learning' && line.learning) {
    return { kind: 'learning', progress: words.learning(line.learning.have, line.learning.need) };
  }
  return { kind: 'live' };
}

interface ChamberStripProps {
  readonly line: StripLine;
  readonly layout: Layout;
  readonly scale?: number;
}

/** A live strip is drawn again only when its marks change; its condition is looked at every few seconds. */
export function ChamberStrip({ line, layout, scale = 1 }: ChamberStripProps) {
  const now = useNow(5);
  const condition = conditionOf(line, now);
  // One object for all live strips keeps them from being drawn again at each look.
  const steady = condition.kind === 'live' ? LIVE : condition;
  return <Strip marks={line.strip} layout={layout} condition={steady} scale={scale} />;
}

const LIVE: Condition = { kind: 'live' };
