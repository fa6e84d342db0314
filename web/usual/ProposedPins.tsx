import { useState } from 'react';
import type { Pin, UsualNow } from '../../shared/contract/rehearsal.ts';
import { spanEnd } from '../chamber/spanText.ts';
import { nowMs } from '../frame/clock.ts';
import { useMay, useUnit, useZone } from '../frame/site.ts';
import { gasTitle } from '../notation/gas.ts';
import { factor } from '../notation/number.ts';
import { pressure } from '../notation/pressure.ts';
import { several } from '../notation/sentence.ts';
import { moment } from '../notation/time.ts';
import { REHEARSED_DAYS, RehearsalPanel } from '../rehearsal/RehearsalPanel.tsx';
import { words as all } from '../strings/usual.ts';
import { DecideForm } from './DecideForm.tsx';
import { usualChanges, usualIn } from './pinWords.ts';

const words = all.proposedPins;

interface ProposedPinsProps {
  readonly pins: readonly Pin[];
  readonly usual: readonly UsualNow[];
  readonly rehearsal: string;
  readonly show: (id: string) => void;
}

/** What workers have learned from chosen periods and nobody has decided yet, beside what holds now. */
export function ProposedPins({ pins, usual, rehearsal, show }: ProposedPinsProps) {
  const proposed = pins.filter(({ state }) => state === 'proposed');
  if (proposed.length === 0) return null;
  return (
    <div className="proposals">
      {proposed.map((pin) => (
        <ProposedPin key={pin.id} pin={pin} usual={usual} rehearsal={rehearsal} show={show} />
      ))}
    </div>
  );
}

function ProposedPin({ pin, usual, rehearsal, show }: Omit<ProposedPinsProps, 'pins'> & { readonly pin: Pin }) {
  const zone = useZone();
  const engineer = useMay('engineer');
  const [move, setMove] = useState<'enforce' | 'withdraw' | null>(null);
  const at = (instant: string) => moment(Date.parse(instant), zone, nowMs());
  const end = ({ from, to }: Pin) => spanEnd({ from: Date.parse(from), to: Date.parse(to) }, zone, nowMs());
  const title = words.proposedForVersion(pin.operatingState, pin.version);
  return (
    <article className="proposal" aria-label={title}>
      <h3>{title}</h3>
      <p>{words.learnedFrom(at(pin.from), end(pin), pin.scans === null ? '' : `, ${several(pin.scans, 'scan')}`)}</p>
      <p className="note">{words.askedBy(pin.setBy, at(pin.setAt), pin.note)}</p>
      {pin.usual ? <Differences pinned={pin.usual} now={usualIn(usual, pin.operatingState)} /> : null}
      {engineer ? (
        <>
          <RehearsalPanel
            request={{ chamber: pin.chamber, days: REHEARSED_DAYS, change: { kind: 'baseline', pin: pin.id } }}
            id={rehearsal}
            show={show}
          />
          {move === null ? (
            <div className="does">
              <button type="button" onClick={() => setMove('enforce')}>
                {words.putInForce}
              </button>
              <button type="button" onClick={() => setMove('withdraw')}>
                {words.withdraw}
              </button>
            </div>
          ) : (
            <DecideForm pin={pin} move={move} done={() => setMove(null)} />
          )}
        </>
      ) : (
        <p className="note">{words.puttingItInForce}</p>
      )}
    </article>
  );
}

interface DifferencesProps {
  readonly pinned: NonNullable<Pin['usual']>;
  readonly now: NonNullable<Pin['usual']>;
}

function Differences({ pinned, now }: DifferencesProps) {
  const unit = useUnit();
  const { moved, same } = usualChanges(now, pinned);
  if (moved.length === 0) {
    return <p className="so-say">{words.itSaysTheSame(same)}</p>;
  }
  const said = (value: number | null) => (value === null ? words.notKnown : pressure(value, unit));
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reached by keys */}
      <section className="scrolls" aria-label={words.whatWouldBeUsual} tabIndex={0}>
        <table className="counts">
          <thead>
            <tr>
              <th scope="col">{words.usual}</th>
              <th scope="col">{words.now}</th>
              <th scope="col">{words.withIt}</th>
              <th scope="col">{words.so}</th>
            </tr>
          </thead>
          <tbody>
            {moved.map(({ gas, nowPa, pinnedPa, decades }) => (
              <tr key={gas}>
                <th scope="row">{gasTitle(gas)}</th>
                <td className="num">{said(nowPa)}</td>
                <td className="num">{said(pinnedPa)}</td>
                <td className="num">{decades === null ? words.cannotTell : factor(decades)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      {same > 0 ? <p className="note">{words.withinATenthOf(several(same, 'gas', 'gases'))}</p> : null}
    </>
  );
}
