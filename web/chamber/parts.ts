import type { Alert } from '../../shared/contract/alerts.ts';
import type { ChamberDetail } from '../api/shapes.ts';
import type { ChamberAddress } from './address.ts';

/** What every stretch of a chamber's page is given. */
export interface ChamberParts {
  readonly chamber: ChamberDetail;
  readonly alerts: readonly Alert[];
  readonly address: ChamberAddress;
  readonly change: (part: Partial<ChamberAddress>, how?: 'push' | 'replace') => void;
}
