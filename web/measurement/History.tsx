import { useState } from 'react';
import type { CalibrationEntry } from '../../shared/contract/calibration.ts';
import { nowMs } from '../frame/clock.ts';
import { useMay, useUnit, useZone } from '../frame/site.ts';
import { several } from '../notation/sentence.ts';
import { moment } from '../notation/time.ts';
import { words as all } from '../strings/calibration.ts';
import { entryTitle, newestFirst, STATE_WORD, valueText } from './calibrationWords.ts';
import { WithdrawForm } from './EntryForms.tsx';

const words = all.history;

/** What has been set, newest first; what was withdrawn stays and says so. */
export function History({ entries }: { readonly entries: readonly CalibrationEntry[] }) {
  const decided = newestFirst(entries).filter(({ state }) => state !== 'proposed');
  if (decided.length === 0) {
    return <p className="note">{words.nobodyHasSetAnything}</p>;
  }
  return (
    <ol className="history">
      {decided.map((entry) => (
        <HistoryEntry key={entry.id} entry={entry} />
      ))}
    </ol>
  );
}

function HistoryEntry({ entry }: { readonly entry: CalibrationEntry }) {
  const unit = useUnit();
  const zone = useZone();
  const engineer = useMay('engineer');
  const [withdrawing, setWithdrawing] = useState(false);
  const at = (instant: string) => moment(Date.parse(instant), zone, nowMs());
  const { state, validFrom, validTo, scans } = entry;
  return (
    <li className={state === 'withdrawn' ? 'gone' : undefined}>
      <div className="when">
        <b>{STATE_WORD[state]}</b>
        <span className="note">
          {validFrom === null ? words.neverUsed : words.from(at(validFrom))}
          {validFrom === null ? '' : validTo === null ? words.on : words.to(at(validTo))}
        </span>
      </div>
      <div>
        <p>
          <b>{entryTitle(entry)}</b> {valueText(entry.kind, entry.value, unit)}
        </p>
        <p className="note">
          {words.fromAgain(
            entry.source,
            scans ? `, ${several(scans.count, 'scan')} ${at(scans.from)} – ${at(scans.to)}` : '',
            entry.setBy,
            at(entry.setAt),
            entry.note ? `: “${entry.note}”` : '',
          )}
        </p>
        {entry.decidedBy && entry.decidedAt ? (
          <p className="note">
            {words.by(
              state === 'withdrawn' ? words.withdrawn : words.putInForce,
              entry.decidedBy,
              at(entry.decidedAt),
              entry.decisionNote ? `: “${entry.decisionNote}”` : '',
            )}
          </p>
        ) : null}
        {withdrawing ? <WithdrawForm entry={entry} done={() => setWithdrawing(false)} /> : null}
      </div>
      {engineer && state === 'in-force' && !withdrawing ? (
        <button type="button" onClick={() => setWithdrawing(true)}>
          {words.withdraw} <span className="unseen">{entryTitle(entry)}</span>
        </button>
      ) : null}
    </li>
  );
}
