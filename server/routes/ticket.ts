/** A zip to attach to a maintenance ticket. */
import { object, Type } from '../../shared/contract/schema.ts';
import type { App, Deps } from '../deps.ts';
import { SpanQuery } from '../span.ts';
import { gatherTicket } from '../ticket/facts.ts';
import { ticketZip } from '../ticket/ticket.ts';
import { ChamberParams, Unit } from './chambers.ts';

export const ticketRoutes = (app: App, deps: Deps): void => {
  app.get(
    '/api/v1/chambers/:id/ticket',
    {
      schema: {
        summary: 'Summary, trend, scans and alert as a zip; the same request gives the same bytes',
        description: 'Without from and to the span ends with the alert or the newest scan.',
        tags: ['readings'],
        produces: ['application/zip'],
        params: ChamberParams,
        querystring: object({
          ...SpanQuery,
          gases: Type.Optional(Type.String({ maxLength: 1000, description: 'Comma-separated' })),
          alert: Type.Optional(Type.String({ maxLength: 64 })),
          analyser: Type.Optional(Type.String({ maxLength: 64 })),
          unit: Type.Optional(Unit),
        }),
        response: { 200: Type.Unsafe<Buffer>({ type: 'string', format: 'binary' }) },
      },
      config: { policy: 'viewer' },
    },
    async (request, reply) => {
      const { id } = request.params;
      const facts = await gatherTicket(deps, { ...request.query, chamber: id, unit: request.query.unit ?? 'Pa' });
      const day = facts.span.to.toISOString().slice(0, 10);
      reply.type('application/zip').header('content-disposition', `attachment; filename="ticket-${id}-${day}.zip"`);
      return reply.send(Buffer.from(ticketZip(facts)));
    },
  );
};
