import { type EvidenceDrawing, PICTURE } from './evidenceScale.ts';

interface EvidencePictureProps {
  readonly drawing: EvidenceDrawing;
  /** Width over that of the full picture: marks keep their size. */
  readonly scale?: number;
}

/**
 * Dash: what was found. Line: how sure. The pale channel of what was expected is the ground of the table's cell, so
 * that it joins the rows. The numbers stand beside it: the picture is for the eye.
 */
export function EvidencePicture({ drawing, scale = 1 }: EvidencePictureProps) {
  const { line, beyond } = drawing;
  const mark = drawing.mark === null ? null : drawing.mark * scale;
  const atMost = drawing.atMost === null ? null : drawing.atMost * scale;
  const width = PICTURE.width * scale;
  const middle = PICTURE.height / 2;
  return (
    <svg
      className="ev"
      width={width}
      height={PICTURE.height}
      viewBox={`0 0 ${width} ${PICTURE.height}`}
      aria-hidden="true"
    >
      {line ? <path className="ev-line" d={`M${line.from * scale} ${middle}H${line.to * scale}`} /> : null}
      {mark !== null && beyond === null ? (
        <rect className="ev-dash" x={mark - 2} y={middle - 8} width="4" height="16" />
      ) : null}
      {mark !== null && beyond !== null ? (
        <path
          className="ev-arrow"
          d={beyond === 'left' ? `M${mark + 8} ${middle - 5}l-8 5l8 5` : `M${mark - 8} ${middle - 5}l8 5l-8 5`}
        />
      ) : null}
      {atMost !== null ? (
        <path className="ev-arrow" d={`M${atMost} ${middle - 6}v12m0 -6h-24m5.5 -4l-5.5 4l5.5 4`} />
      ) : null}
    </svg>
  );
}
