import type { Round, RoundLine } from '../../shared/contract/round.ts';

/** All chambers of the round, those with an open alert first: there a comparison is asked for most. */
export const chambersOf = (round: Round): RoundLine[] => {
  const all = round.areas.flatMap(({ chambers }) => chambers);
  return [...all.filter(({ openAlerts }) => openAlerts > 0), ...all.filter(({ openAlerts }) => openAlerts === 0)];
};
