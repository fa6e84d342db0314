import { useState } from 'react';
import type { CalibrationEntry } from '../../shared/contract/calibration.ts';
import { nowMs } from '../frame/clock.ts';
import { useMay, useUnit, useZone } from '../frame/site.ts';
import { factor } from '../notation/number.ts';
import { several } from '../notation/sentence.ts';
import { moment } from '../notation/time.ts';
import { words as all } from '../strings/calibration.ts';
import { entryTitle, FALLBACK, isNumber, rivalInForce, valueText } from './calibrationWords.ts';
import { EnforceForm, WithdrawForm } from './EntryForms.tsx';

const words = all.proposals;

/** How a proposal stands to what holds now; null where that cannot be said in a factor. */
export function changeText(proposal: CalibrationEntry, rival: CalibrationEntry | null): string | null {
  if (rival === null || !isNumber(proposal.value) || !isNumber(rival.value)) return null;
  const ratio = proposal.value.value / rival.value.value;
  return ratio > 0 ? words.ofWhatHoldsNow(factor(Math.log10(ratio))) : null;
}

interface ProposalsProps {
  readonly entries: readonly CalibrationEntry[];
}

/** What workers have worked out and nobody has decided yet, beside what it would replace. */
export function Proposals({ entries }: ProposalsProps) {
  const proposals = entries.filter(({ state }) => state === 'proposed');
  if (proposals.length === 0) return null;
  return (
    <div className="proposals">
      <p className="say">
        {words.forAnEngineerNothing(
          proposals.length === 1 ? words.oneProposalWaits : words.proposalsWait(proposals.length),
        )}
      </p>
      {proposals.map((proposal) => (
        <Proposal key={proposal.id} proposal={proposal} rival={rivalInForce(proposal, entries, nowMs())} />
      ))}
    </div>
  );
}

interface ProposalProps {
  readonly proposal: CalibrationEntry;
  readonly rival: CalibrationEntry | null;
}

function Proposal({ proposal, rival }: ProposalProps) {
  const unit = useUnit();
  const zone = useZone();
  const engineer = useMay('engineer');
  const [form, setForm] = useState<'enforce' | 'withdraw' | null>(null);
  const close = () => setForm(null);
  const at = (instant: string) => moment(Date.parse(instant), zone, nowMs());
  const change = changeText(proposal, rival);
  return (
    <article className="proposal" aria-label={words.proposed(entryTitle(proposal))}>
      <h3>{entryTitle(proposal)}</h3>
      <dl className="beside">
        <div className="now">
          <dt>{words.proposedAgain}</dt>
          <dd>{valueText(proposal.kind, proposal.value, unit)}</dd>
        </div>
        <div>
          <dt>{words.inForceNow}</dt>
          <dd>{rival ? valueText(rival.kind, rival.value, unit) : FALLBACK[proposal.kind]}</dd>
        </div>
        <div>
          <dt>{words.fromWhat}</dt>
          <dd>
            {proposal.source}
            {proposal.scans
              ? `, ${several(proposal.scans.count, 'scan')} ${at(proposal.scans.from)} – ${at(proposal.scans.to)}`
              : ''}
          </dd>
        </div>
      </dl>
      <p className="note">
        {words.askedBy(
          proposal.setBy,
          at(proposal.setAt),
          proposal.note ? `: “${proposal.note}”` : '',
          change ? ` · ${change}` : '',
        )}
      </p>
      {engineer && form === null ? (
        <div className="does">
          <button type="button" onClick={() => setForm('enforce')}>
            {words.putInForceFrom}
          </button>
          <button type="button" onClick={() => setForm('withdraw')}>
            {words.withdraw}
          </button>
        </div>
      ) : null}
      {form === 'enforce' ? <EnforceForm entry={proposal} done={close} /> : null}
      {form === 'withdraw' ? <WithdrawForm entry={proposal} done={close} /> : null}
    </article>
  );
}
