import { useMemo } from 'react';
import type { Performance } from '../../shared/contract/performance.ts';
import { useWidth } from '../charts/useWidth.ts';
import { count } from '../notation/number.ts';
import { words } from '../strings/performance.ts';

import { type DayCount, dayLayout, dayText } from './dayScale.ts';

const HEIGHT = 190;
const BOX = { left: 34, top: 26, bottom: HEIGHT - 30 } as const;
const LEAST_PITCH = 3;
const WIDEST_DASH = 16;

/** Calls day by day, in words: what the picture's label and a reader without it get. */
export function daysSentence(days: readonly DayCount[]): string {
  const total = days.reduce((sum, { annunciations }) => sum + annunciations, 0);
  if (days.length === 0) return words.noDayInSpan;
  if (total === 0) return words.noCallOnAny(days.length);
  const busiest = days.reduce((best, day) => (day.annunciations > best.annunciations ? day : best));
  const quiet = days.filter(({ annunciations }) => annunciations === 0).length;
  return words.onMostOnNone(total, days.length, dayText(busiest.day), count(busiest.annunciations), quiet);
}

/** Width of `27 Nov`, generously. */
const DATE_PX = 44;

/** A mark for each day: a dash on a post, as high as the day had calls; a day without any lies on the ground. */
export function DayMarks({ performance }: { readonly performance: Performance }) {
  const { perDay } = performance;
  const [box, width] = useWidth<HTMLDivElement>();
  const wide = Math.max(width, perDay.length * LEAST_PITCH + BOX.left + 10);
  const layout = useMemo(() => dayLayout(perDay, { ...BOX, right: wide - 10 }), [perDay, wide]);
  const dash = Math.max(2, Math.min(WIDEST_DASH, layout.pitch * 0.66));
  const spoken = daysSentence(perDay);
  return (
    <>
      <p className="say">{spoken}</p>
      <div className="plotbox days" ref={box} tabIndex={wide > width ? 0 : undefined}>
        <svg className="plot" width={wide} height={HEIGHT} role="img" aria-label={words.callsADay(spoken)}>
          {layout.ticks.map(({ value, y }) => (
            <g key={value}>
              <path className="ax-line" d={`M${BOX.left} ${y}H${wide - 10}`} />
              <text className="ax-y" x={BOX.left - 7} y={y + 4}>
                {count(value)}
              </text>
            </g>
          ))}
          {layout.places.map(({ day, annunciations, x, y }) => (
            <g key={day}>
              {annunciations > 0 ? (
                <rect className="dm-post" x={x - dash * 0.19} y={y} width={dash * 0.38} height={BOX.bottom - y} />
              ) : null}
              <rect
                className={annunciations > 0 ? 'dm-dash' : 'dm-rest'}
                x={x - dash / 2}
                y={annunciations > 0 ? y - 2 : y - 3}
                width={dash}
                height={annunciations > 0 ? 4 : 3}
              />
            </g>
          ))}
          <path className="ax-base" d={`M${BOX.left} ${BOX.bottom}H${wide - 10}`} />
          {layout.labels.map(({ day, x }) => (
            // The last date would run out of a narrow picture: there it ends where the picture does.
            <text
              key={day}
              className={x + DATE_PX / 2 > wide ? 'ax-x end' : 'ax-x'}
              x={x + DATE_PX / 2 > wide ? wide : x}
              y={BOX.bottom + 18}
            >
              {dayText(day)}
            </text>
          ))}
          <text className="ax-u" x={BOX.left} y={11}>
            {words.callsAxis}
          </text>
        </svg>
      </div>
    </>
  );
}
