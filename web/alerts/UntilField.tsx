import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { fieldInstant, fieldValue, offsetText } from '../notation/time.ts';
import { words } from '../strings/alertMoves.ts';

interface UntilFieldProps {
  readonly until: string;
  readonly set: (until: string) => void;
}

/** When it ends by itself, on the reader's clock. */
export function UntilField({ until, set }: UntilFieldProps) {
  const zone = useZone();
  return (
    <label>
      {words.until2(offsetText(fieldInstant(until, zone) ?? nowMs(), zone))}
      <input
        value={until}
        inputMode="numeric"
        placeholder="2026-11-27 14:00"
        required
        onChange={(event) => set(event.target.value)}
      />
    </label>
  );
}

interface UntilPresetsProps {
  readonly lengths: readonly number[];
  readonly unit: 'h' | 'd';
  readonly set: (until: string) => void;
}

const MS = { h: 3_600_000, d: 86_400_000 } as const;

/** Usual lengths, counted from now. */
export function UntilPresets({ lengths, unit, set }: UntilPresetsProps) {
  const zone = useZone();
  return (
    <div className="presets">
      {lengths.map((length) => (
        <button
          key={length}
          type="button"
          className="quiet"
          onClick={() => set(fieldValue(nowMs() + length * MS[unit], zone))}
        >
          {words.forWord(length, unit)}
        </button>
      ))}
    </div>
  );
}
