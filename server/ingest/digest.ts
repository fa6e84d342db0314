/**
 * What a scan says, as 32 bytes. Two sendings of one scan have the same digest whatever the order of their keys, the
 * offset of their time, or the defaults that they spell out.
 */
import { createHash } from 'node:crypto';
import { packFloat64 } from '../../shared/db/codec.ts';
import type { AcceptedScan } from './judgeScan.ts';

export const digestOf = (scan: Omit<AcceptedScan, 'digest' | 'packed'>): { digest: Buffer; packed: Buffer } => {
  const packed = packFloat64(scan.values);
  const { masses } = scan;
  const head = [
    scan.atMs,
    scan.seconds,
    scan.averages,
    Array.isArray(masses) ? masses : [masses.first, masses.last, masses.perUnit, 'even'],
    scan.unit,
    scan.detector,
    scan.totalPressure === null ? null : [scan.totalPressure.value, scan.totalPressure.unit],
    scan.state,
    scan.temperatureC,
  ];
  const digest = createHash('sha256').update(JSON.stringify(head)).update(packed).digest();
  return { digest, packed };
};
