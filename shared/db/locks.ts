/** Numbers of the advisory locks, in one place so that no two subjects share one. */
export const MIGRATE_LOCK = 81_404_170;
export const FLEET_LOCK = 81_404_171;
export const PEOPLE_LOCK = 81_404_172;
/** Held for as long as a supervisor keeps an own PostgreSQL running. */
export const SUPERVISOR_LOCK = 81_404_173;
export const RATIONALISATION_LOCK = 81_404_174;
/** First key of the two-key locks that stand for chambers; the second is the chamber's hash. */
export const CHAMBER_LOCKS = 8140;
