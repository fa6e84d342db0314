import type { UseQueryResult } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { Trend } from '../../shared/contract/readings.ts';
import { RefusedError } from '../api/ask.ts';

interface RecomputedProps {
  readonly question: UseQueryResult<Trend>;
  readonly leave: () => void;
}

/** Says that a second series is drawn, from what, and lets it be taken away again. */
export function Recomputed({ question, leave }: RecomputedProps) {
  const { data, error } = question;
  const reason = error instanceof RefusedError ? error.message : 'something went wrong on this page.';
  const versions = data?.recomputation?.calibrationVersions ?? [];
  const nothing = data !== undefined && Object.values(data.series).every((points) => points.length === 0);
  return (
    <div className="bar" role="status">
      <span>
        {error ? (
          <>
            <b>The recomputed series did not come</b>: {reason} What was judged is drawn as always.
          </>
        ) : data === undefined ? (
          'The recomputed series is on its way.'
        ) : nothing ? (
          <>
            <b>Nothing of this span was recomputed.</b> Look at the period that was asked for.
          </>
        ) : (
          <>
            <b>Dashed: recomputed</b>
            {versions.length > 0 ? (
              <>
                {' '}
                with <span className="code">{versions.join(', ')}</span>
              </>
            ) : null}
            . The solid line is what was judged, and stays so.
          </>
        )}
      </span>
      <button type="button" onClick={leave}>
        Leave it out
      </button>
      {data ? (
        <Link className="btn" href={`/measurement/${encodeURIComponent(data.analyser)}`}>
          Its calibrations
        </Link>
      ) : null}
    </div>
  );
}
