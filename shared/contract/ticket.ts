/** What a ticket says, as its page shows it: the same facts as the files of the zip, and the very picture of it. */
import { Alert, AlertMove } from './alerts.ts';
import { ChamberNote } from './chamberNotes.ts';
import { Instant, nullable, object, type Static, Type, words } from './schema.ts';
import { PRESSURE_UNITS } from './words.ts';

/** One gas over the scans of the span, pressures in the ticket's unit. */
export const TicketGas = object({
  gas: Type.String(),
  name: Type.String(),
  scans: Type.Integer({ description: 'Scans that looked for it' }),
  detected: Type.Integer({ description: 'Scans that detect it' }),
  median: nullable(Type.Number({ description: 'Of the scans that detect it; null: none does' })),
  least: nullable(Type.Number()),
  greatest: nullable(Type.Number()),
  limit: nullable(Type.Number({ description: 'Greatest upper limit of the scans that do not detect it' })),
  last: nullable(
    object({
      at: Instant,
      value: nullable(Type.Number()),
      low: nullable(Type.Number({ description: '95 % interval' })),
      high: nullable(Type.Number()),
      detected: Type.Boolean(),
    }),
  ),
});
export type TicketGas = Static<typeof TicketGas>;

export const TicketAlert = object({ ...Alert.properties, moves: Type.Array(AlertMove) });
export type TicketAlert = Static<typeof TicketAlert>;

export const TicketSheet = object({
  site: Type.String(),
  version: Type.String({ description: 'Of the software' }),
  chamber: object({
    id: Type.String(),
    name: Type.String(),
    area: Type.String(),
    areaName: Type.String(),
    timeZone: Type.String(),
    kind: nullable(Type.String()),
  }),
  analyser: Type.String(),
  from: Instant,
  to: Instant,
  unit: words(PRESSURE_UNITS),
  scans: Type.Integer(),
  gases: Type.Array(TicketGas),
  /** The one that the ticket is about; null: the chamber as such. */
  alert: nullable(TicketAlert),
  /** All that stood in the span, oldest first. */
  alerts: Type.Array(TicketAlert),
  /** What people noted at moments of the span, oldest first; those that were withdrawn too. */
  notes: Type.Array(ChamberNote),
  gaps: Type.Array(object({ from: Instant, to: Instant })),
  calibrationVersions: Type.Array(Type.String()),
  /** Entries that people had put in force for these readings, each in a sentence. */
  calibrations: Type.Array(Type.String()),
  catalogueVersions: Type.Array(Type.String()),
  cautions: Type.Array(Type.String()),
  picture: Type.String({ description: 'trend.svg, byte for byte' }),
  permalink: Type.String({ description: 'Address of the same ticket on this server' }),
  file: object({ path: Type.String(), name: Type.String(), bytes: Type.Integer(), sha256: Type.String() }),
  /** SHA-256 of each file of the zip. */
  sha256: Type.Record(Type.String(), Type.String()),
});
export type TicketSheet = Static<typeof TicketSheet>;
