import { type EvidenceDrawing, PICTURE } from './evidenceScale.ts';

/**
 * Dash: what was found. Line: how sure. The pale channel of what was expected is the ground of the table's cell, so
 * that it joins the rows. The numbers stand beside it: the picture is for the eye.
 */
export function EvidencePicture({ drawing }: { readonly drawing: EvidenceDrawing }) {
  const { mark, line, atMost, beyond } = drawing;
  const middle = PICTURE.height / 2;
  return (
    <svg
      className="ev"
      width={PICTURE.width}
      height={PICTURE.height}
      viewBox={`0 0 ${PICTURE.width} ${PICTURE.height}`}
      aria-hidden="true"
    >
      {line ? <path className="ev-line" d={`M${line.from} ${middle}H${line.to}`} /> : null}
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
