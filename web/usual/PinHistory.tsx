import type { Pin } from '../../shared/contract/rehearsal.ts';
import { spanEnd } from '../chamber/spanText.ts';
import { nowMs } from '../frame/clock.ts';
import { Sentence } from '../frame/Sentence.tsx';
import { useZone } from '../frame/site.ts';
import { several } from '../notation/sentence.ts';
import { moment } from '../notation/time.ts';
import { words as all } from '../strings/usual.ts';
import { PIN_STATE } from './pinWords.ts';

const words = all.pinHistory;

const DECISION: Readonly<Partial<Record<Pin['state'], string>>> = {
  'in-force': words.putInForce,
  replaced: words.putInForce,
  withdrawn: 'withdrawn',
};

/** Every period that was ever chosen, the newest first; proposals stand above on their own. */
export function PinHistory({ pins }: { readonly pins: readonly Pin[] }) {
  const zone = useZone();
  const at = (instant: string) => moment(Date.parse(instant), zone, nowMs());
  const end = ({ from, to }: Pin) => spanEnd({ from: Date.parse(from), to: Date.parse(to) }, zone, nowMs());
  const shown = pins
    .filter(({ state }) => state !== 'proposed')
    .toSorted((a, b) => Date.parse(b.setAt) - Date.parse(a.setAt));
  if (shown.length === 0) return null;
  return (
    <ol className="history" aria-live="polite">
      {shown.map((pin) => (
        <li key={pin.id} className={pin.state === 'withdrawn' || pin.state === 'failed' ? 'gone' : undefined}>
          <div className="when">
            <b>{PIN_STATE[pin.state]}</b>
            <span className="note">
              {pin.validFrom === null ? at(pin.setAt) : words.forScansFrom(at(pin.validFrom))}
            </span>
          </div>
          <div>
            <p>
              <b>{words.version(pin.operatingState, pin.version)}</b>{' '}
              {words.from(at(pin.from), end(pin), pin.scans === null ? '' : `, ${several(pin.scans, 'scan')}`)}
            </p>
            <p className="note">
              {pin.setBy}, {at(pin.setAt)}: “{pin.note}”
            </p>
            {pin.problem ? (
              <p className="so-say">
                <Sentence text={pin.problem} />
              </p>
            ) : null}
            {pin.decidedBy && pin.decidedAt ? (
              <p className="note">
                {words.by(
                  DECISION[pin.state] ?? words.decided,
                  pin.decidedBy,
                  at(pin.decidedAt),
                  pin.decisionNote ? `: “${pin.decisionNote}”` : '',
                )}
              </p>
            ) : null}
          </div>
        </li>
      ))}
    </ol>
  );
}
