import { useQuery } from '@tanstack/react-query';
import { useEffect, useRef } from 'react';
import type { Round } from '../../shared/contract/round.ts';
import { roundQuestion } from '../api/questions.ts';
import { announce, useSaid } from './announce.ts';

interface Waiting {
  readonly id: string;
  readonly high: boolean;
  readonly sentence: string;
}

const waitingIn = (round: Round): Waiting[] =>
  round.areas.flatMap((area) =>
    area.chambers.flatMap((line) =>
      line.worst && line.worst.state === 'unacknowledged'
        ? [{ id: line.worst.id, high: line.worst.priority === 'high', sentence: `${line.name}: ${line.worst.summary}` }]
        : [],
    ),
  );

/** Says new alerts to those who do not see the page: High at once and once, the rest gathered. */
export function NewAlerts() {
  const { data: round } = useQuery(roundQuestion);
  const known = useRef<Set<string> | null>(null);
  const said = useSaid();
  useEffect(() => {
    if (!round) return;
    const waiting = waitingIn(round);
    if (known.current) {
      for (const { id, high, sentence } of waiting) {
        if (!known.current.has(id)) announce(high ? `New, High. ${sentence}` : sentence, high ? 'assertive' : 'polite');
      }
    }
    known.current = new Set([...(known.current ?? []), ...waiting.map(({ id }) => id)]);
  }, [round]);
  return (
    <>
      <div className="unseen" role="alert">
        {said.assertive}
      </div>
      <div className="unseen" role="status" aria-live="polite">
        {said.polite}
      </div>
    </>
  );
}
