import type { UseQueryResult } from '@tanstack/react-query';
import { Link } from 'wouter';
import type { Trend } from '../../shared/contract/readings.ts';
import { RefusedError } from '../api/ask.ts';
import { words } from '../strings/chamber.ts';
import { Rich } from '../strings/Rich.tsx';

interface RecomputedProps {
  readonly question: UseQueryResult<Trend>;
  readonly leave: () => void;
}

/** Says that a second series is drawn, from what, and lets it be taken away again. */
export function Recomputed({ question, leave }: RecomputedProps) {
  const { data, error } = question;
  const reason = error instanceof RefusedError ? error.message : words.somethingWentWrong;
  const versions = data?.recomputation?.calibrationVersions ?? [];
  const nothing = data !== undefined && Object.values(data.series).every((points) => points.length === 0);
  return (
    <div className="bar" role="status">
      <span>
        {error ? (
          <Rich text={words.recomputedDidNotCome(reason)} parts={{ b: (inner) => <b>{inner}</b> }} />
        ) : data === undefined ? (
          words.recomputedOnItsWay
        ) : nothing ? (
          <Rich text={words.nothingRecomputed} parts={{ b: (inner) => <b>{inner}</b> }} />
        ) : (
          <Rich
            text={versions.length > 0 ? words.dashedRecomputedWith : words.dashedRecomputed}
            parts={{
              b: (inner) => <b>{inner}</b>,
              versions: () => <span className="code">{versions.join(', ')}</span>,
            }}
          />
        )}
      </span>
      <button type="button" onClick={leave}>
        {words.leaveItOut}
      </button>
      {data ? (
        <Link className="btn" href={`/measurement/${encodeURIComponent(data.analyser)}`}>
          {words.itsCalibrations}
        </Link>
      ) : null}
    </div>
  );
}
