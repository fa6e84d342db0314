import type { Workshop } from './analyseChamber.ts';
import { openGasLists } from './gasLists.ts';
import { recentlyUsed } from './remembered.ts';

/** Chambers whose watch memory is kept unpacked; beyond that it is read again from the database. */
const MOST_REMEMBERED = 500;

/** Analysers whose past documents are kept: those of the recomputations that are being worked on. */
const MOST_PASTS = 100;

/** Verified cases that are kept, some kilobytes each. */
const MOST_EXAMPLES = 2_000;

/** Everything that analysing chambers needs, with empty caches. */
export const openWorkshop = (deps: Pick<Workshop, 'database' | 'science' | 'log' | 'stopping'>): Workshop => ({
  ...deps,
  gasLists: openGasLists(deps.database.sql),
  memories: recentlyUsed(MOST_REMEMBERED),
  pastDocuments: recentlyUsed(MOST_PASTS),
  examples: recentlyUsed(MOST_EXAMPLES),
});
