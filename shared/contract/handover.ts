/** What one shift hands to the next: what stands open, what was put away, and what people have written. */
import { Instant, nullable, object, type Static, Type, words } from './schema.ts';
import { ALERT_STATES, ENTRY_KINDS, HEALTH_WORDS, OPERATING_STATES, PRIORITIES, SIGNATURES } from './words.ts';

export const HandoverEntry = object({
  id: Type.String(),
  area: Type.String(),
  kind: words(ENTRY_KINDS),
  chamber: nullable(Type.String({ description: 'Null: it is about the whole area' })),
  chamberName: nullable(Type.String()),
  text: Type.String(),
  dueAt: nullable(Instant),
  at: Instant,
  by: Type.String(),
  doneAt: nullable(Instant),
  doneBy: nullable(Type.String()),
  doneNote: nullable(Type.String()),
});
export type HandoverEntry = Static<typeof HandoverEntry>;

/** About an area, or about a chamber, whose area it then belongs to. */
export const NewEntry = object({
  kind: words(ENTRY_KINDS),
  area: Type.Optional(Type.String({ maxLength: 64 })),
  chamber: Type.Optional(nullable(Type.String({ maxLength: 64 }))),
  text: Type.String({ minLength: 1, maxLength: 1000 }),
  dueAt: Type.Optional(nullable(Instant)),
});
export type NewEntry = Static<typeof NewEntry>;
export const CloseEntry = object({ note: Type.Optional(Type.String({ maxLength: 1000 })) });

const alertHead = {
  id: Type.String(),
  chamber: Type.String(),
  chamberName: Type.String(),
  signature: words(SIGNATURES),
  priority: words(PRIORITIES),
  state: words(ALERT_STATES),
  summary: Type.String(),
  raisedAt: Instant,
};

export const HandoverAlert = object({
  ...alertHead,
  firstStep: nullable(Type.String()),
  acknowledged: nullable(object({ by: Type.String(), at: Instant, note: Type.String() })),
});
export type HandoverAlert = Static<typeof HandoverAlert>;

export const PutAwayAlert = object({
  ...alertHead,
  since: nullable(Instant),
  until: nullable(Type.String({ description: 'Null: suppressed, it comes back with the operating state' })),
  by: nullable(Type.String({ description: 'Null: by design, not by a person' })),
  reason: nullable(Type.String()),
});
export type PutAwayAlert = Static<typeof PutAwayAlert>;

export const UnseenChamber = object({
  chamber: Type.String(),
  chamberName: Type.String(),
  health: words(HEALTH_WORDS),
  state: nullable(words(OPERATING_STATES)),
  lastScanAt: nullable(Instant),
  say: Type.String(),
});
export type UnseenChamber = Static<typeof UnseenChamber>;

export const Handover = object({
  area: Type.String(),
  areaName: Type.String(),
  at: Instant,
  open: Type.Array(HandoverAlert, { description: 'By priority, what nobody has acknowledged first' }),
  shelved: Type.Array(PutAwayAlert, { description: 'The next to return first' }),
  suppressed: Type.Array(PutAwayAlert),
  outOfService: Type.Array(PutAwayAlert, { description: 'The next to return first; by: the engineer' }),
  unseen: Type.Array(UnseenChamber, { description: 'Blind and stale' }),
  work: Type.Array(HandoverEntry, { description: 'Open entries, the next that is due first; so are the two after it' }),
  promises: Type.Array(HandoverEntry),
  watch: Type.Array(HandoverEntry),
  done: Type.Array(HandoverEntry, { description: 'Closed since the last signed round' }),
});
export type Handover = Static<typeof Handover>;
export const Handovers = object({ at: Instant, areas: Type.Array(Handover) });
export type Handovers = Static<typeof Handovers>;
