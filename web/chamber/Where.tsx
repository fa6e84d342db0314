import { useQuery } from '@tanstack/react-query';
import { roundQuestion } from '../api/questions.ts';
import type { AnalyserDetail } from '../api/shapes.ts';
import { Age, Lasting } from '../frame/Age.tsx';
import { plain } from '../notation/number.ts';
import { words } from '../strings/chamber.ts';
import { Rich } from '../strings/Rich.tsx';
import type { ChamberParts } from './parts.ts';

const analyserWords = (analyser: AnalyserDetail): string =>
  [analyser.principle, analyser.massRange ? `${analyser.massRange[0]}–${analyser.massRange[1]} u` : null]
    .filter((word) => word !== null)
    .join(', ');

/** The line over the verdict: which chamber, where, watched by what, in which state, how old. */
export function Where({ chamber, address, change }: Pick<ChamberParts, 'chamber' | 'address' | 'change'>) {
  const { data: round } = useQuery(roundQuestion);
  const area = round?.areas.find(({ id }) => id === chamber.area)?.name ?? chamber.area;
  const analyser = chamber.analysersDetail.find(({ id }) => id === address.analyser) ?? chamber.analysersDetail[0];
  const facts = [
    area,
    chamber.kind,
    analyser ? analyserWords(analyser) : words.noAnalyser,
    chamber.volumeLitres === null ? null : `${plain(chamber.volumeLitres)} l`,
  ].filter((fact) => fact !== null && fact !== '');
  return (
    <div className="where">
      <b>{chamber.name}</b>
      <span className="note">
        {facts.join(' · ')}
        {chamber.state ? (
          <>
            {' · '}
            <StateSaid state={chamber.state} since={chamber.stateSince} />
          </>
        ) : null}
        {' · '}
        <Age
          at={chamber.lastScanAt}
          periodSeconds={chamber.scanPeriodSeconds}
          prefix={chamber.lastScanAt ? words.scanAge : ''}
        />
      </span>
      {chamber.analysersDetail.length > 1 ? (
        <label className="note">
          {words.analyser}{' '}
          <select
            value={address.analyser || (analyser?.id ?? '')}
            onChange={(event) => change({ analyser: event.target.value })}
          >
            {chamber.analysersDetail.map(({ id, principle }) => (
              <option key={id} value={id}>
                {id}
                {principle ? ` (${principle})` : ''}
              </option>
            ))}
          </select>
        </label>
      ) : null}
    </div>
  );
}

function StateSaid({ state, since }: { readonly state: string; readonly since: string | null }) {
  if (since === null) return state;
  return <Rich text={words.stateFor(state)} parts={{ lasting: () => <Lasting since={since} /> }} />;
}
