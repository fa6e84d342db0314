import { useQuery } from '@tanstack/react-query';
import { useEffect, useRef } from 'react';
import type { Round } from '../../shared/contract/round.ts';
import { roundQuestion } from '../api/questions.ts';
import { announce, useSaid } from './announce.ts';
import { newsBetween } from './news.ts';

/** Says new alerts to those who do not see the page: High at once and once, the rest gathered. Ages are never said. */
export function NewAlerts() {
  const { data: round } = useQuery(roundQuestion);
  const last = useRef<Round | null>(null);
  const said = useSaid();
  useEffect(() => {
    if (!round) return;
    if (last.current)
      for (const { high, sentence } of newsBetween(last.current, round))
        announce(sentence, high ? 'assertive' : 'polite');
    last.current = round;
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
