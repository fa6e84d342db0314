/** What the pages about the alerts themselves ask. */
import { queryOptions } from '@tanstack/react-query';
import type { AlertGroup } from '../../shared/contract/alerts.ts';
import type { Confusion, Performance } from '../../shared/contract/performance.ts';
import type { Rationalisation } from '../../shared/contract/rationalisation.ts';
import type { Pin, Rehearsal, SignatureExample, UsualNow } from '../../shared/contract/rehearsal.ts';
import type { Signature } from '../../shared/contract/words.ts';
import { ask, query } from './ask.ts';

/** While a worker is busy with something that a person waits for. */
const WAITING_EVERY_MS = 2_000;
const RESTING_EVERY_MS = 60_000;

/** Groups that began after `from`; null: nothing is asked, because no alert says that it belongs to one. */
export const groupsQuestion = (from: number | null) =>
  queryOptions({
    queryKey: ['alerts', 'groups', from],
    queryFn: ({ signal }) => {
      const fields = { from: new Date(from ?? 0).toISOString() };
      return ask<{ groups: AlertGroup[] }>(`/api/v1/alerts/groups${query(fields)}`, { signal });
    },
    enabled: from !== null,
    placeholderData: (before) => before,
  });

/** In force for this kind of chamber, else for all; an empty kind asks for those that hold for all. */
export const rationalisationsQuestion = (kind: string) =>
  queryOptions({
    queryKey: ['rationalisation', 'current', kind],
    queryFn: ({ signal }) =>
      ask<{ records: Rationalisation[] }>(`/api/v1/rationalisation${query({ kind })}`, { signal }),
    staleTime: 60_000,
  });

export const recordHistoryQuestion = (signature: Signature, kind: string) =>
  queryOptions({
    queryKey: ['rationalisation', 'history', signature, kind],
    queryFn: ({ signal }) =>
      ask<{ records: Rationalisation[] }>(`/api/v1/rationalisation/${signature}/history${query({ kind })}`, { signal }),
  });

export interface PerformanceAsked {
  readonly area: string;
  readonly responder: string;
  readonly span: { readonly lastDays: number } | { readonly from: number; readonly to: number };
}

const DAY_MS = 86_400_000;
const instantsOf = (span: PerformanceAsked['span'], now: () => number) => {
  const { from, to } = 'from' in span ? span : { from: now() - span.lastDays * DAY_MS, to: now() };
  return { from: new Date(from).toISOString(), to: new Date(to).toISOString() };
};

export const performanceQuestion = (asked: PerformanceAsked, now: () => number) =>
  queryOptions({
    queryKey: ['performance', 'measures', asked],
    queryFn: ({ signal }) => {
      const fields = { area: asked.area, responder: asked.responder, ...instantsOf(asked.span, now) };
      return ask<Performance>(`/api/v1/performance${query(fields)}`, { signal });
    },
    placeholderData: (before) => before,
    refetchInterval: RESTING_EVERY_MS,
  });

export const confusionQuestion = ({ area, span }: Omit<PerformanceAsked, 'responder'>, now: () => number) =>
  queryOptions({
    queryKey: ['performance', 'confusion', area, span],
    queryFn: ({ signal }) =>
      ask<Confusion>(`/api/v1/performance/confusion${query({ area, ...instantsOf(span, now) })}`, { signal }),
    placeholderData: (before) => before,
  });

export const examplesQuestion = queryOptions({
  queryKey: ['examples'],
  queryFn: ({ signal }) => ask<{ examples: SignatureExample[] }>('/api/v1/examples', { signal }),
  refetchInterval: ({ state }) =>
    state.data?.examples.some(({ check, withdrawnAt }) => check === null && withdrawnAt === null)
      ? WAITING_EVERY_MS * 5
      : RESTING_EVERY_MS,
});

export const rehearsalQuestion = (id: string | null) =>
  queryOptions({
    queryKey: ['rehearsal', id],
    queryFn: ({ signal }) => ask<Rehearsal>(`/api/v1/rehearsals/${encodeURIComponent(id ?? '')}`, { signal }),
    enabled: id !== null,
    refetchInterval: ({ state }) => (state.data?.state === 'waiting' ? WAITING_EVERY_MS : false),
  });

export const pinsQuestion = (analyser: string) =>
  queryOptions({
    queryKey: ['pins', analyser],
    queryFn: ({ signal }) =>
      ask<{ pins: Pin[]; usual: UsualNow[] }>(`/api/v1/analysers/${encodeURIComponent(analyser)}/pins`, { signal }),
    refetchInterval: ({ state }) =>
      state.data?.pins.some((pin) => pin.state === 'waiting') ? WAITING_EVERY_MS : RESTING_EVERY_MS,
  });
