import { useEffect, useState } from 'react';
import type { Trend } from '../../shared/contract/readings.ts';
import type { PressureUnit } from '../../shared/units.ts';
import { nowMs } from '../frame/clock.ts';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { useMay, useUnit, useZone } from '../frame/site.ts';
import { gasLabel } from '../notation/gas.ts';
import { pressure } from '../notation/pressure.ts';
import { fieldInstant, fieldValue } from '../notation/time.ts';
import { words } from '../strings/crossHair.ts';
import { NoteForm } from './NoteForm.tsx';
import type { ChamberParts } from './parts.ts';

type CrossHairProps = Pick<ChamberParts, 'chamber' | 'address' | 'change'> & {
  readonly trend: Trend;
  readonly gases: readonly string[];
};

/** Points further away than this many buckets say nothing of a moment. */
const REACH_STEPS = 1.5;

/** What the lines say at a moment: of each gas the nearest bucket, if one is near. */
export function valuesAt(trend: Trend, gases: readonly string[], at: number, unit: PressureUnit): string[] {
  return gases.flatMap((gas) => {
    const points = trend.series[gas] ?? [];
    const away = (time: string) => Math.abs(Date.parse(time) - at);
    const nearest = points.reduce<(typeof points)[number] | null>(
      (best, point) => (best === null || away(point.at) < away(best.at) ? point : best),
      null,
    );
    if (nearest === null || away(nearest.at) > REACH_STEPS * trend.step * 1000) return [];
    if (nearest.value !== null && nearest.value > 0) return [words.value(gasLabel(gas), pressure(nearest.value, unit))];
    return nearest.limit ? [words.below(gasLabel(gas), pressure(nearest.limit, unit))] : [];
  });
}

/** The moment at which the trend is read: from here to the spectrum of then, and to a note. */
export function CrossHair({ chamber, address, change, trend, gases }: CrossHairProps) {
  const unit = useUnit();
  const may = useMay('operator');
  const [noting, setNoting] = useState(false);
  const { cross } = address;
  useKeys({ n: may ? () => setNoting(true) : undefined });
  const values = cross === null ? [] : valuesAt(trend, gases, cross, unit);
  return (
    <>
      <div className="cross-line">
        <MomentField at={cross} set={(at) => change({ cross: at }, 'replace')} />
        {cross === null ? <span className="note">{words.how}</span> : null}
        {cross !== null && values.length === 0 ? <span>{words.nothing}</span> : null}
        {values.map((value) => (
          <span key={value} className="num">
            {value}
          </span>
        ))}
        {cross === null ? null : (
          <>
            <button type="button" onClick={() => change({ scan: new Date(cross).toISOString() })}>
              {words.spectrum}
            </button>
            {may ? (
              <button type="button" aria-expanded={noting} onClick={() => setNoting(true)}>
                {words.note} <Key name="n" />
              </button>
            ) : null}
            <button type="button" onClick={() => change({ cross: null }, 'replace')}>
              {words.clear}
            </button>
          </>
        )}
      </div>
      {noting && cross === null ? (
        <p className="note" role="status">
          {words.chooseFirst}
        </p>
      ) : null}
      {noting && cross !== null ? <NoteForm chamber={chamber.id} at={cross} close={() => setNoting(false)} /> : null}
    </>
  );
}

interface MomentFieldProps {
  readonly at: number | null;
  readonly set: (at: number | null) => void;
}

function MomentField({ at, set }: MomentFieldProps) {
  const zone = useZone();
  const given = at === null ? '' : fieldValue(at, zone);
  const [typed, setTyped] = useState(given);
  useEffect(() => setTyped(given), [given]);
  const apply = () => {
    if (typed === given) return;
    const moment = typed.trim() === '' ? null : fieldInstant(typed, zone);
    if (typed.trim() === '' || (moment !== null && moment <= nowMs())) set(moment);
    else setTyped(given);
  };
  return (
    <label>
      {words.label}{' '}
      <input
        className="when"
        size={16}
        inputMode="numeric"
        placeholder={words.field}
        value={typed}
        onChange={(event) => setTyped(event.target.value)}
        onBlur={apply}
        onKeyDown={(event) => event.key === 'Enter' && apply()}
      />
    </label>
  );
}
