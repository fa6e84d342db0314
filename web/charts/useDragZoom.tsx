import { type PointerEvent, type ReactNode, type RefObject, useEffect, useRef, useState } from 'react';
import { type Span, settled, zoomed } from './zoom.ts';

export interface DragZoomParts {
  readonly span: Span;
  readonly plot: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number };
  readonly now: () => number;
  readonly choose: (span: Span) => void;
  /** A press without a drag: the moment that was pointed at. */
  readonly point?: (ms: number) => void;
  /** The moment that is marked. */
  readonly cross?: number | null;
}

/** A press that moves less than this is not a drag. */
const LEAST_DRAG_PX = 6;
const WHEEL_STEP = 1.25;

export interface DragZoom {
  readonly surface: RefObject<HTMLDivElement | null>;
  readonly onPointerDown: (event: PointerEvent<HTMLElement>) => void;
  readonly onPointerMove: (event: PointerEvent<HTMLElement>) => void;
  readonly onPointerUp: () => void;
  readonly onClick: (event: { clientX: number }) => void;
  readonly veil: ReactNode;
}

/** Drag a stretch of time to look closer, turn the wheel (with Ctrl or over the axis) to zoom. Keys and fields do the same. */
export function useDragZoom({ span, plot, now, choose, point, cross = null }: DragZoomParts): DragZoom {
  const surface = useRef<HTMLDivElement>(null);
  /** A drag ends with a click, which points at nothing. */
  const dragged = useRef(false);
  const [drag, setDrag] = useState<{ from: number; to: number } | null>(null);
  const timeAt = (px: number) => span.from + ((px - plot.left) / (plot.right - plot.left)) * (span.to - span.from);
  const within = (event: { clientX: number }) => {
    const left = surface.current?.getBoundingClientRect().left ?? 0;
    return Math.max(plot.left, Math.min(plot.right, event.clientX - left));
  };
  const wheel = useRef<(event: WheelEvent) => void>(() => {});
  wheel.current = (event) => {
    // The plain wheel scrolls the page: taking it away would trap the reader over the chart.
    if (!event.ctrlKey && !event.shiftKey) return;
    event.preventDefault();
    const closer = (event.deltaY || event.deltaX) < 0;
    choose(zoomed(span, closer ? 1 / WHEEL_STEP : WHEEL_STEP, timeAt(within(event)), now()));
  };
  useEffect(() => {
    const node = surface.current;
    const listen = (event: WheelEvent) => wheel.current(event);
    node?.addEventListener('wheel', listen, { passive: false });
    return () => node?.removeEventListener('wheel', listen);
  }, []);
  return {
    surface,
    onPointerDown: (event) => {
      if (event.button !== 0 || event.pointerType === 'touch') return;
      const at = within(event);
      event.currentTarget.setPointerCapture(event.pointerId);
      setDrag({ from: at, to: at });
    },
    onPointerMove: (event) => {
      if (drag) setDrag({ ...drag, to: within(event) });
    },
    onPointerUp: () => {
      dragged.current = drag !== null && Math.abs(drag.to - drag.from) >= LEAST_DRAG_PX;
      if (drag && dragged.current) {
        choose(settled({ from: timeAt(drag.from), to: timeAt(drag.to) }, now()));
      }
      setDrag(null);
    },
    onClick: (event) => {
      if (!dragged.current) point?.(Math.round(timeAt(within(event))));
      dragged.current = false;
    },
    veil: <Veil drag={drag} cross={crossAt({ span, plot }, cross)} plot={plot} />,
  };
}

const crossAt = ({ span, plot }: Pick<DragZoomParts, 'span' | 'plot'>, cross: number | null): number | null =>
  cross === null || cross < span.from || cross > span.to
    ? null
    : plot.left + ((cross - span.from) / (span.to - span.from)) * (plot.right - plot.left);

interface VeilProps {
  readonly drag: { from: number; to: number } | null;
  readonly cross: number | null;
  readonly plot: DragZoomParts['plot'];
}

function Veil({ drag, cross, plot }: VeilProps) {
  if (!drag && cross === null) return null;
  return (
    <svg className="veil" aria-hidden="true">
      {cross === null ? null : <path className="cross" d={`M${cross} ${plot.top - 10}V${plot.bottom}`} />}
      {drag ? (
        <rect
          x={Math.min(drag.from, drag.to)}
          y={plot.top}
          width={Math.abs(drag.to - drag.from)}
          height={plot.bottom - plot.top}
        />
      ) : null}
    </svg>
  );
}
