/** A zip to attach to a maintenance ticket, and the same as a page shows and prints it. */
import { object, Type } from '../../shared/contract/schema.ts';
import { TicketSheet } from '../../shared/contract/ticket.ts';
import type { App, Deps } from '../deps.ts';
import { SpanQuery } from '../span.ts';
import { gatherTicket } from '../ticket/facts.ts';
import { ticketSheet } from '../ticket/sheet.ts';
import { ticketZip } from '../ticket/ticket.ts';
import { zipName } from '../ticket/versions.ts';
import { ChamberParams, Unit } from './chambers.ts';

const TicketQuery = object({
  ...SpanQuery,
  gases: Type.Optional(Type.String({ maxLength: 1000, description: 'Comma-separated' })),
  alert: Type.Optional(Type.String({ maxLength: 64 })),
  analyser: Type.Optional(Type.String({ maxLength: 64 })),
  unit: Type.Optional(Unit),
});
const description = 'Without from and to the span ends with the alert or the newest scan.';

export const ticketRoutes = (app: App, deps: Deps): void => {
  app.get(
    '/api/v1/chambers/:id/ticket',
    {
      schema: {
        summary: 'Summary, trend, scans and alert as a zip; the same request gives the same bytes',
        description,
        tags: ['readings'],
        produces: ['application/zip'],
        params: ChamberParams,
        querystring: TicketQuery,
        response: { 200: Type.Unsafe<Buffer>({ type: 'string', format: 'binary' }) },
      },
      config: { policy: 'viewer' },
    },
    async (request, reply) => {
      const { id } = request.params;
      const facts = await gatherTicket(deps, { ...request.query, chamber: id, unit: request.query.unit ?? 'Pa' });
      reply.type('application/zip').header('content-disposition', `attachment; filename="${zipName(facts)}"`);
      return reply.send(Buffer.from(ticketZip(facts)));
    },
  );

  app.get(
    '/api/v1/chambers/:id/ticket/sheet',
    {
      schema: {
        summary: 'The same ticket for a page: its facts, its picture, and the digest of every file of the zip',
        description,
        tags: ['readings'],
        params: ChamberParams,
        querystring: TicketQuery,
        response: { 200: TicketSheet },
      },
      config: { policy: 'viewer' },
    },
    async (request) => {
      const { id } = request.params;
      return ticketSheet(await gatherTicket(deps, { ...request.query, chamber: id, unit: request.query.unit ?? 'Pa' }));
    },
  );
};
