import { tickText } from './RatioPicture.tsx';
import type { FactorRow, FactorScale } from './sisterScale.ts';

interface SisterPictureProps {
  readonly row: FactorRow;
  readonly scale: FactorScale;
  readonly width: number;
  /** Nothing is judged, so that a missing range is no news. */
  readonly plain?: boolean;
}

const HEIGHT = 34;
const MIDDLE = HEIGHT / 2;
const EDGE = 9;

/** Thin marks: the sisters. Pale block: the range in which they lie. Solid dash: this chamber. Hatch: it cannot be told. */
export function SisterPicture({ row, scale, width, plain = false }: SisterPictureProps) {
  const x = (factor: number) => EDGE + scale.place(factor) * (width - 2 * EDGE);
  const { own, others, range } = row;
  const beyond = own !== null && (scale.place(own) <= 0 || scale.place(own) >= 1);
  const pointing = own !== null && own > 1 ? 1 : -1;
  return (
    <svg className="ev" width={width} height={HEIGHT} aria-hidden="true">
      {scale.ticks.map((tick) => (
        <path key={tick} className="decade" d={`M${x(tick)} 0V${HEIGHT}`} />
      ))}
      {range ? (
        <rect className="ld-bed" x={x(range.low)} y={MIDDLE - 11} width={x(range.high) - x(range.low)} height="22" />
      ) : plain ? null : (
        <rect className="gap" x={EDGE} y={MIDDLE - 5} width={width - 2 * EDGE} height="10" fill="url(#hatch)" />
      )}
      {others.map((factor, place) => (
        // Sisters keep their places in the answer; two of them may lie at the same factor.
        // biome-ignore lint/suspicious/noArrayIndexKey: the place is what a mark is
        <path key={place} className="sister" d={`M${x(factor)} ${MIDDLE - 8}v16`} />
      ))}
      {own === null ? null : <rect className="ev-dash" x={x(own) - 2.5} y={MIDDLE - 9} width="5" height="18" />}
      {beyond ? (
        <path className="ev-arrow" d={`M${x(own)} ${MIDDLE - 13}l${pointing * 7} 4l${-pointing * 7} 4`} />
      ) : null}
    </svg>
  );
}

export function SisterAxis({ scale, width }: Omit<SisterPictureProps, 'row' | 'plain'>) {
  return (
    <svg className="plot ratio-axis" width={width} height="18" aria-hidden="true">
      {scale.ticks.map((tick) => (
        <text key={tick} className="ax-x" x={EDGE + scale.place(tick) * (width - 2 * EDGE)} y="13">
          {tickText(tick)}
        </text>
      ))}
    </svg>
  );
}
