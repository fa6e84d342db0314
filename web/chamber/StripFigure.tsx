import { words } from '../strings/chamber.ts';
import { ChamberStrip, type StripLine } from '../strip/ChamberStrip.tsx';
import { ownGasesOf } from '../strip/layout.ts';
import { useLayout, useNarrow } from '../strip/useLayout.ts';

interface StripFigureProps {
  readonly line: StripLine;
  /** Gases that the chamber declares beyond the watched ones. */
  readonly gases: readonly string[];
}

/** At the head of a page the strip stands larger. */
const STRIP_SCALE = 1.3;

export function StripFigure({ line, gases }: StripFigureProps) {
  const layout = useLayout(ownGasesOf([line.strip], gases), 'row');
  const narrow = useNarrow();
  return (
    <figure>
      <ChamberStrip line={line} layout={layout} scale={narrow ? 1 : STRIP_SCALE} />
      <figcaption className="note">{line.state ? words.stripMargin(line.state) : words.stripMarginAny}</figcaption>
    </figure>
  );
}
