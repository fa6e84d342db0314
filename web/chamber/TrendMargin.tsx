import { strokeOf } from '../charts/strokes.ts';
import { AGAIN_DASH } from '../charts/TrendChart.tsx';
import type { Span } from '../charts/zoom.ts';
import { nowMs } from '../frame/clock.ts';
import { useZone } from '../frame/site.ts';
import { duration } from '../notation/age.ts';
import { gasTitle } from '../notation/gas.ts';
import { offsetText } from '../notation/time.ts';
import { words } from '../strings/chamber.ts';
import { spanText } from './spanText.ts';

interface TrendMarginProps {
  readonly span: Span;
  readonly gases: readonly string[];
  readonly table: boolean;
  /** A recomputed series stands beside the judged one. */
  readonly again: boolean;
}

export function TrendMargin({ span, gases, table, again }: TrendMarginProps) {
  const zone = useZone();
  const now = nowMs();
  return (
    <>
      <p>{spanText(span, zone, now)}</p>
      <p>
        ({offsetText(span.to, zone)}), {duration((span.to - span.from) / 1000)}
      </p>
      {table ? null : (
        <ul className="lg">
          {gases.map((gas) => {
            const { slot, dash } = strokeOf(gas);
            return (
              <li key={gas}>
                {gasTitle(gas)}
                <svg width="26" height="8" aria-hidden="true">
                  <path className={`tr-line s-${slot}`} strokeDasharray={dash} d="M0 4H26" />
                </svg>
              </li>
            );
          })}
          {again ? (
            <li>
              {words.recomputed}
              <svg width="26" height="8" aria-hidden="true">
                <path
                  className={`tr-line again s-${strokeOf(gases[0] ?? 'N2').slot}`}
                  strokeDasharray={AGAIN_DASH}
                  d="M0 4H26"
                />
              </svg>
            </li>
          ) : null}
          <li>
            {words.minToMax}
            <svg width="26" height="10" aria-hidden="true">
              <rect className={`tr-env g-${strokeOf(gases[0] ?? 'N2').slot}`} width="26" height="10" />
            </svg>
          </li>
          <li>
            {words.legendBelow}
            <svg width="26" height="8" aria-hidden="true">
              <path className={`g-${strokeOf(gases[0] ?? 'N2').slot}`} d="M0 3h3v3h-3zM11 3h3v3h-3zM22 3h3v3h-3z" />
            </svg>
          </li>
        </ul>
      )}
    </>
  );
}
