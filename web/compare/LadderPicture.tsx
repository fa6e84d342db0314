import { decadeLabel } from '../notation/number.ts';
import type { ComparedGas } from './beforeWords.ts';
import type { Ladder } from './ladderScale.ts';

interface LadderPictureProps {
  readonly gas: ComparedGas;
  readonly ladder: Ladder;
  readonly width: number;
}

const HEIGHT = 34;
const MIDDLE = HEIGHT / 2;
const EDGE = 8;
const ARROW = 20;

/** Pale block: usual range. Hollow dash: before. Solid dash: after, with its interval. An arrow: at most this. */
export function LadderPicture({ gas, ladder, width }: LadderPictureProps) {
  const x = (pressure: number | null | undefined): number | null => {
    const share = ladder.place(pressure);
    return share === null ? null : EDGE + share * (width - 2 * EDGE);
  };
  const { before, after, usual } = gas;
  const [from, to] = [x(before?.value ?? before?.high), x(after?.value ?? after?.high)];
  const [bedLow, bedHigh] = [x(usual?.low), x(usual?.high)];
  return (
    <svg className="ev ladder" width={width} height={HEIGHT} aria-hidden="true">
      {ladder.ticks.map((tick) => (
        <path key={tick} className="decade" d={`M${x(tick) ?? 0} 0V${HEIGHT}`} />
      ))}
      {bedLow !== null && bedHigh !== null ? (
        <rect className="ld-bed" x={bedLow} y={MIDDLE - 11} width={Math.max(2, bedHigh - bedLow)} height="22" />
      ) : null}
      {from !== null && to !== null ? <path className="ld-between" d={`M${from} ${MIDDLE}H${to}`} /> : null}
      {before && from !== null ? (
        before.value === null ? (
          <AtMost at={from} dashed />
        ) : (
          <rect className="ld-before" x={from - 3} y={MIDDLE - 9} width="6" height="18" />
        )
      ) : null}
      {after && to !== null ? (
        after.value === null ? (
          <AtMost at={to} />
        ) : (
          <>
            <path className="ev-line" d={`M${x(after.comparedLow) ?? EDGE} ${MIDDLE}H${x(after.comparedHigh) ?? to}`} />
            <rect className="ev-dash" x={to - 3} y={MIDDLE - 9} width="6" height="18" />
          </>
        )
      ) : null}
    </svg>
  );
}

function AtMost({ at, dashed = false }: { readonly at: number; readonly dashed?: boolean }) {
  const stop = Math.max(at, ARROW + 2);
  return (
    <path
      className={dashed ? 'ld-most dashed' : 'ld-most'}
      d={`M${stop} ${MIDDLE - 8}v16m0 -8h-${ARROW}m5 -4l-5 4l5 4`}
    />
  );
}

export function LadderAxis({ ladder, width }: Omit<LadderPictureProps, 'gas'>) {
  return (
    <svg className="plot ratio-axis" width={width} height="18" aria-hidden="true">
      {ladder.ticks.map((tick) => (
        <text key={tick} className="ax-x" x={EDGE + (ladder.place(tick) ?? 0) * (width - 2 * EDGE)} y="13">
          {decadeLabel(Math.round(Math.log10(tick)))}
        </text>
      ))}
    </svg>
  );
}
