import { queryOptions } from '@tanstack/react-query';
import type { TicketSheet } from '../../shared/contract/ticket.ts';
import { ask, query } from '../api/ask.ts';
import type { TicketAddress } from './address.ts';

export const ticketQuestion = (chamber: string, { gases, ...address }: TicketAddress) =>
  queryOptions({
    queryKey: ['ticket', chamber, gases, address],
    queryFn: ({ signal }) =>
      ask<TicketSheet>(
        `/api/v1/chambers/${encodeURIComponent(chamber)}/ticket/sheet${query({ ...address, gases: gases.join(',') })}`,
        { signal },
      ),
    // A ticket is a document: it changes when somebody asks for it again, not while it is read or printed.
    staleTime: Number.POSITIVE_INFINITY,
    placeholderData: (before) => before,
  });
