import type { Alert } from '../../shared/contract/alerts.ts';
import type { ChamberDetail } from '../api/shapes.ts';
import { drawable } from '../charts/strokes.ts';
import type { ChamberAddress } from './address.ts';

/** What is drawn when nothing has been chosen: the gases of the alert first, then those that tell most. */
const TELLING = ['N2', 'O2', 'Ar', 'H2O', 'H2', 'CO2', 'hydrocarbon-oil'];
const DRAWN_AT_FIRST = 5;

export function gasesAtFirst(chamber: ChamberDetail, alert: Alert | null): string[] {
  const known = new Set(Object.keys(chamber.gases));
  const wanted = [...new Set([...(alert?.gases ?? []), ...TELLING, ...known])].filter((gas) => known.has(gas));
  return drawable(wanted).slice(0, DRAWN_AT_FIRST);
}

/** What the trend draws: as chosen, as far as lines can be told apart, else what tells most. */
export const drawnGases = (
  chamber: ChamberDetail,
  alert: Alert | null,
  { gases }: Pick<ChamberAddress, 'gases'>,
): string[] => (gases.length > 0 ? drawable(gases) : gasesAtFirst(chamber, alert));
