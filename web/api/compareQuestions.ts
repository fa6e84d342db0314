/** What the comparisons of a chamber with its past and with its sisters ask. Pressures are always asked in pascal. */
import { queryOptions } from '@tanstack/react-query';
import type { BeforeAfter } from '../../shared/contract/beforeAfter.ts';
import type { Sisters } from '../../shared/contract/sisters.ts';
import { ask, query } from './ask.ts';

/** A repair is not proved in seconds, nor does a sister become odd in them. */
const EVERY_MS = 60_000;

export interface BeforeAfterAsked {
  readonly chamber: string;
  /** Null: the server's choice; empty: none. */
  readonly alert: string | null;
  readonly analyser: string | null;
  readonly before: { readonly from: number; readonly to: number } | null;
  readonly after: { readonly from: number; readonly to: number } | null;
}

const instant = (ms: number | undefined): string | null => (ms === undefined ? null : new Date(ms).toISOString());

export const beforeAfterQuestion = (asked: BeforeAfterAsked) =>
  queryOptions({
    queryKey: ['compare', 'before', asked],
    queryFn: ({ signal }) => {
      const { chamber, alert, analyser, before, after } = asked;
      const fields = {
        analyser,
        beforeFrom: instant(before?.from),
        beforeTo: instant(before?.to),
        afterFrom: instant(after?.from),
        afterTo: instant(after?.to),
        unit: 'Pa',
      };
      const which = alert === null ? '' : `&alert=${encodeURIComponent(alert)}`;
      return ask<BeforeAfter>(`/api/v1/chambers/${encodeURIComponent(chamber)}/before-after${query(fields)}${which}`, {
        signal,
      });
    },
    placeholderData: (before) => before,
    refetchInterval: EVERY_MS,
  });

export const sistersQuestion = (chamber: string, state: string | null) =>
  queryOptions({
    queryKey: ['compare', 'sisters', chamber, state],
    queryFn: ({ signal }) =>
      ask<Sisters>(`/api/v1/chambers/${encodeURIComponent(chamber)}/sisters${query({ state, unit: 'Pa' })}`, {
        signal,
      }),
    placeholderData: (before) => before,
    refetchInterval: EVERY_MS,
  });
