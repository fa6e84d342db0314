/** What the pages about the measurement itself ask. Pressures are always asked in pascal. */
import { queryOptions } from '@tanstack/react-query';
import type { CalibrationEntry, Task } from '../../shared/contract/calibration.ts';
import type { Comparison } from '../../shared/contract/comparison.ts';
import type {
  AnalyserMeasurement,
  MeasurementList,
  MeasurementTrend,
  Residuals,
  ScanLine,
} from '../../shared/contract/measurement.ts';
import type { Plan } from '../../shared/contract/plan.ts';
import type { Note } from '../../shared/contract/readings.ts';
import { ask, query } from './ask.ts';
import { spanMs, type TrendAsked } from './questions.ts';

/** The event stream says when something new was measured; this only bounds what it may have missed. */
const MISSED_EVERY_MS = 60_000;
/** While a worker is busy with something that a person waits for. */
const WAITING_EVERY_MS = 2_000;

const of = (analyser: string) => `/api/v1/analysers/${encodeURIComponent(analyser)}`;

type AskedSpan = TrendAsked['span'];
const instants = (span: AskedSpan, now: () => number) => {
  const { from, to } = spanMs(span, now());
  return { from: new Date(from).toISOString(), to: new Date(to).toISOString() };
};

export const measurementListQuestion = queryOptions({
  queryKey: ['measurement', 'list'],
  queryFn: ({ signal }) => ask<MeasurementList>('/api/v1/measurement?unit=Pa', { signal }),
  refetchInterval: MISSED_EVERY_MS,
});

export const measurementQuestion = (analyser: string) =>
  queryOptions({
    queryKey: ['measurement', 'of', analyser, 'now'],
    queryFn: ({ signal }) => ask<AnalyserMeasurement>(`${of(analyser)}/measurement?unit=Pa`, { signal }),
    refetchInterval: MISSED_EVERY_MS,
  });

export interface MeasurementTrendAsked {
  readonly analyser: string;
  readonly span: AskedSpan;
  readonly points: number;
}

export const measurementTrendQuestion = (asked: MeasurementTrendAsked, now: () => number) =>
  queryOptions({
    queryKey: ['measurement', 'of', asked.analyser, 'trend', asked],
    queryFn: ({ signal }) => {
      const fields = { ...instants(asked.span, now), points: asked.points, unit: 'Pa' };
      return ask<MeasurementTrend>(`${of(asked.analyser)}/measurement/trend${query(fields)}`, { signal });
    },
    placeholderData: (before) => before,
    refetchInterval: MISSED_EVERY_MS,
  });

export const residualsQuestion = (analyser: string) =>
  queryOptions({
    queryKey: ['measurement', 'of', analyser, 'residuals'],
    queryFn: ({ signal }) => ask<Residuals>(`${of(analyser)}/residuals?unit=Pa`, { signal }),
    refetchInterval: MISSED_EVERY_MS,
  });

export interface PlanAsked {
  readonly analyser: string;
  readonly gas: string;
  readonly pressurePa: number;
}

export const planQuestion = ({ analyser, gas, pressurePa }: PlanAsked) =>
  queryOptions({
    queryKey: ['measurement', 'of', analyser, 'plan', gas, pressurePa],
    queryFn: ({ signal }) =>
      ask<Plan>(`${of(analyser)}/plan${query({ gas, pressure: pressurePa, unit: 'Pa' })}`, { signal }),
  });

/** Scans from which a person marks a stretch. */
export const MOST_SCANS = 200;

export const scansQuestion = (analyser: string, span: { readonly from: number; readonly to: number } | null) =>
  queryOptions({
    queryKey: ['measurement', 'of', analyser, 'scans', span],
    queryFn: ({ signal }) => {
      const fields = span ? instants(span, () => 0) : { from: null, to: null };
      return ask<{ scans: ScanLine[] }>(`${of(analyser)}/scans${query({ ...fields, limit: MOST_SCANS, unit: 'Pa' })}`, {
        signal,
      });
    },
    enabled: span !== null,
    placeholderData: (before) => before,
  });

/** The history with the cautions that belong beside its forms. */
export interface CalibrationHistory {
  readonly entries: readonly CalibrationEntry[];
  readonly notes?: readonly Note[];
}

export const calibrationsQuestion = (analyser: string) =>
  queryOptions({
    queryKey: ['measurement', 'of', analyser, 'calibrations'],
    queryFn: ({ signal }) => ask<CalibrationHistory>(`${of(analyser)}/calibrations`, { signal }),
  });

export const tasksQuestion = (analyser: string) =>
  queryOptions({
    queryKey: ['measurement', 'of', analyser, 'tasks'],
    queryFn: ({ signal }) => ask<{ tasks: Task[] }>(`${of(analyser)}/tasks`, { signal }),
    refetchInterval: ({ state }) =>
      state.data?.tasks.some((task) => task.state === 'waiting') ? WAITING_EVERY_MS : MISSED_EVERY_MS,
  });

export interface ComparisonAsked {
  readonly chamber: string;
  readonly first: string;
  readonly second: string;
  readonly relativeTo: string;
  readonly span: AskedSpan;
}

export const comparisonQuestion = (asked: ComparisonAsked, now: () => number) =>
  queryOptions({
    queryKey: ['comparison', asked],
    queryFn: ({ signal }) => {
      const { first, second, relativeTo } = asked;
      const fields = { first, second, relativeTo, ...instants(asked.span, now), unit: 'Pa' };
      return ask<Comparison>(`/api/v1/chambers/${encodeURIComponent(asked.chamber)}/comparison${query(fields)}`, {
        signal,
      });
    },
    placeholderData: (before) => before,
    enabled: asked.chamber !== '' && asked.first !== '' && asked.second !== '',
  });
