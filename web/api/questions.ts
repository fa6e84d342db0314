/** One entry per question that a page asks: its key, its address, its type. Pressures are always asked in pascal. */
import { queryOptions } from '@tanstack/react-query';
import type { About, Operation } from '../../shared/contract/about.ts';
import type { PersonLine, Session, TokenLine } from '../../shared/contract/access.ts';
import type { Alert } from '../../shared/contract/alerts.ts';
import type { FleetDocument } from '../../shared/contract/fleet.ts';
import type { LatestReading, Spectrum, SpectrumWaiting, StoredScan, Trend } from '../../shared/contract/readings.ts';
import type { Round } from '../../shared/contract/round.ts';
import { ask, query } from './ask.ts';
import type { AlertWithLife, Baseline, ChamberDetail, Limits, SignatureSheet, StateSpan } from './shapes.ts';

const at = (id: string) => encodeURIComponent(id);

export const sessionQuestion = queryOptions({
  queryKey: ['session'],
  queryFn: ({ signal }) => ask<Session>('/api/v1/session', { signal }),
  staleTime: 60_000,
});

export const roundQuestion = queryOptions({
  queryKey: ['round'],
  queryFn: ({ signal }) => ask<Round>('/api/v1/round', { signal }),
});

export const chamberQuestion = (id: string) =>
  queryOptions({
    queryKey: ['chamber', id, 'detail'],
    queryFn: ({ signal }) => ask<ChamberDetail>(`/api/v1/chambers/${at(id)}?unit=Pa`, { signal }),
  });

export const latestQuestion = (id: string, analyser: string | null) =>
  queryOptions({
    queryKey: ['chamber', id, 'latest', analyser],
    queryFn: ({ signal }) =>
      ask<LatestReading>(`/api/v1/chambers/${at(id)}/readings/latest${query({ analyser, unit: 'Pa' })}`, { signal }),
  });

/** While a worker is busy with an earlier scan that a person waits for. */
const WAITING_EVERY_MS = 700;

/** The newest scan, or the last one at or before `time` (RFC 3339). */
export const spectrumQuestion = (id: string, analyser: string | null, time = '') =>
  queryOptions({
    queryKey: ['chamber', id, 'spectrum', analyser, time],
    queryFn: ({ signal }) =>
      ask<Spectrum | SpectrumWaiting>(
        `/api/v1/chambers/${at(id)}/spectrum${query({ analyser, at: time, unit: 'Pa' })}`,
        { signal },
      ),
    refetchInterval: ({ state }) => (state.data && 'state' in state.data ? WAITING_EVERY_MS : false),
  });

/** The same scan as it was sent, with the times of its neighbours. */
export const scanQuestion = (id: string, analyser: string | null, time = '') =>
  queryOptions({
    queryKey: ['chamber', id, 'scan', analyser, time],
    queryFn: ({ signal }) =>
      ask<StoredScan>(`/api/v1/chambers/${at(id)}/scan${query({ analyser, at: time })}`, { signal }),
  });

export interface TrendAsked {
  readonly chamber: string;
  readonly analyser: string | null;
  readonly gases: readonly string[];
  /** A span that ends now and moves with the clock, or a fixed one. */
  readonly span: { readonly lastSeconds: number } | { readonly from: number; readonly to: number };
  readonly points: number;
  /** The readings of this recomputation instead of those that were judged. */
  readonly recomputation?: string;
}

/** The span of a question in milliseconds, when asked at `nowMs`. */
export const spanMs = (span: TrendAsked['span'], nowMs: number): { from: number; to: number } =>
  'from' in span ? span : { from: nowMs - span.lastSeconds * 1000, to: nowMs };

export const trendQuestion = (asked: TrendAsked, now: () => number) =>
  queryOptions({
    queryKey: ['chamber', asked.chamber, 'trend', asked],
    queryFn: ({ signal }) => {
      const span = spanMs(asked.span, now());
      const fields = {
        gases: asked.gases.join(','),
        from: new Date(span.from).toISOString(),
        to: new Date(span.to).toISOString(),
        points: asked.points,
        unit: 'Pa',
        analyser: asked.analyser,
        recomputation: asked.recomputation,
      };
      return ask<Trend>(`/api/v1/chambers/${at(asked.chamber)}/trend${query(fields)}`, { signal });
    },
    placeholderData: (before) => before,
    enabled: asked.gases.length > 0 && asked.recomputation !== '',
  });

export const statesQuestion = (chamber: string, span: TrendAsked['span'], now: () => number) =>
  queryOptions({
    queryKey: ['chamber', chamber, 'states', span],
    queryFn: ({ signal }) => {
      const { from, to } = spanMs(span, now());
      const fields = { from: new Date(from).toISOString(), to: new Date(to).toISOString() };
      return ask<{ spans: StateSpan[] }>(`/api/v1/chambers/${at(chamber)}/states${query(fields)}`, { signal });
    },
    placeholderData: (before) => before,
  });

export const baselinesQuestion = (chamber: string) =>
  queryOptions({
    queryKey: ['chamber', chamber, 'baselines'],
    queryFn: ({ signal }) =>
      ask<{ baselines: Baseline[] }>(`/api/v1/chambers/${at(chamber)}/baselines?unit=Pa`, { signal }),
  });

export const limitsQuestion = (chamber: string) =>
  queryOptions({
    queryKey: ['chamber', chamber, 'limits'],
    queryFn: ({ signal }) => ask<Limits>(`/api/v1/chambers/${at(chamber)}/limits`, { signal }),
  });

export interface AlertFilter {
  readonly chamber?: string | null;
  readonly state?: string | null;
  readonly signature?: string | null;
}

export const alertsQuestion = (filter: AlertFilter) =>
  queryOptions({
    queryKey: ['alerts', filter],
    queryFn: ({ signal }) => ask<{ alerts: Alert[] }>(`/api/v1/alerts${query({ ...filter })}`, { signal }),
  });

export const alertQuestion = (id: string) =>
  queryOptions({
    queryKey: ['alert', id],
    queryFn: ({ signal }) => ask<AlertWithLife>(`/api/v1/alerts/${at(id)}`, { signal }),
  });

export const signaturesQuestion = queryOptions({
  queryKey: ['signatures'],
  queryFn: ({ signal }) => ask<{ signatures: SignatureSheet[] }>('/api/v1/signatures', { signal }),
  staleTime: Number.POSITIVE_INFINITY,
});

export const fleetQuestion = queryOptions({
  queryKey: ['fleet'],
  queryFn: ({ signal }) => ask<FleetDocument>('/api/v1/fleet', { signal }),
  staleTime: 5 * 60_000,
});

export const tokensQuestion = queryOptions({
  queryKey: ['tokens'],
  queryFn: ({ signal }) => ask<{ tokens: TokenLine[] }>('/api/v1/tokens', { signal }),
});

export const peopleQuestion = queryOptions({
  queryKey: ['people'],
  queryFn: ({ signal }) => ask<{ people: PersonLine[] }>('/api/v1/people', { signal }),
});

export const aboutQuestion = queryOptions({
  queryKey: ['about', 'facts'],
  queryFn: ({ signal }) => ask<About>('/api/v1/about', { signal }),
  refetchInterval: 5_000,
});

export const operationQuestion = queryOptions({
  queryKey: ['about', 'operation'],
  queryFn: ({ signal }) => ask<Operation>('/api/v1/about/operation', { signal }),
  refetchInterval: 15_000,
});
