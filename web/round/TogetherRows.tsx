import type { ReactNode } from 'react';
import type { RoundLine } from '../../shared/contract/round.ts';
import type { AlertState } from '../../shared/contract/words.ts';
import { GroupRow } from '../alerts/GroupRow.tsx';
import type { Together } from './together.ts';

interface TogetherRowsProps {
  readonly together: Together;
  readonly open: boolean;
  readonly toggle: () => void;
  readonly row: (line: RoundLine) => ReactNode;
}

/** One entry for chambers that share a cause; it opens to their rows. */
export function TogetherRows({ together, open, toggle, row }: TogetherRowsProps) {
  const { group, lines } = together;
  return (
    <>
      <GroupRow
        group={group}
        shown={lines.length}
        state={(lines[0]?.worst?.state ?? 'unacknowledged') as AlertState}
        open={open}
        toggle={toggle}
        noun="chamber"
      />
      {open ? lines.map(row) : null}
    </>
  );
}
