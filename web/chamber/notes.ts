import { queryOptions } from '@tanstack/react-query';
import type { ChamberNote, NewChamberNote } from '../../shared/contract/chamberNotes.ts';
import { ask, query } from '../api/ask.ts';
import { spanMs, type TrendAsked } from '../api/questions.ts';

const of = (chamber: string) => `/api/v1/chambers/${encodeURIComponent(chamber)}/notes`;

export const notesQuestion = (chamber: string, span: TrendAsked['span'], now: () => number) =>
  queryOptions({
    queryKey: ['chamber', chamber, 'notes', span],
    queryFn: ({ signal }) => {
      const { from, to } = spanMs(span, now());
      const fields = { from: new Date(from).toISOString(), to: new Date(to).toISOString() };
      return ask<{ notes: ChamberNote[] }>(`${of(chamber)}${query(fields)}`, { signal });
    },
    placeholderData: (before) => before,
  });

export const makeNote = (chamber: string, body: NewChamberNote) =>
  ask<ChamberNote>(of(chamber), { method: 'POST', body });
export const withdrawNote = (chamber: string, id: string) =>
  ask<ChamberNote>(`${of(chamber)}/${encodeURIComponent(id)}/withdraw`, { method: 'POST', body: {} });
