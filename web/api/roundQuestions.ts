/** Questions about handovers and rounds that were signed. */
import { queryOptions } from '@tanstack/react-query';
import type { HandoverEntry, Handovers } from '../../shared/contract/handover.ts';
import type { SignedRoundDetail, SignedRoundLine } from '../../shared/contract/round.ts';
import { ask, query } from './ask.ts';

const at = (id: string) => encodeURIComponent(id);

export const handoverQuestion = queryOptions({
  queryKey: ['handover'],
  queryFn: ({ signal }) => ask<Handovers>('/api/v1/round/handover', { signal }),
});

/** Of one chamber: open ones first, then those that are closed. */
export const entriesQuestion = (chamber: string) =>
  queryOptions({
    queryKey: ['handover', chamber],
    queryFn: ({ signal }) =>
      ask<{ entries: HandoverEntry[] }>(`/api/v1/handover/entries${query({ chamber, limit: 50 })}`, { signal }),
  });

export interface RoundsAsked {
  readonly area: string;
  readonly limit: number;
}
export const roundsQuestion = ({ area, limit }: RoundsAsked) =>
  queryOptions({
    queryKey: ['rounds', area, limit],
    queryFn: ({ signal }) => ask<{ rounds: SignedRoundLine[] }>(`/api/v1/rounds${query({ area, limit })}`, { signal }),
    placeholderData: (before) => before,
  });

export const signedRoundQuestion = (id: string) =>
  queryOptions({
    queryKey: ['signed round', id],
    queryFn: ({ signal }) => ask<SignedRoundDetail>(`/api/v1/rounds/${at(id)}`, { signal }),
  });
