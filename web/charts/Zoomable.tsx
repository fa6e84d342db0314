import type { ReactNode } from 'react';
import { type DragZoomParts, useDragZoom } from './useDragZoom.tsx';

interface ZoomableProps extends DragZoomParts {
  /** The picture in words. */
  readonly label: string;
  readonly children: ReactNode;
}

/** A picture over time in which a stretch can be dragged to look closer. */
export function Zoomable({ label, children, ...parts }: ZoomableProps) {
  const zoom = useDragZoom(parts);
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: the field under the picture sets the same moment
    <div
      ref={zoom.surface}
      className="zoomable"
      role="img"
      aria-label={label}
      onPointerDown={zoom.onPointerDown}
      onPointerMove={zoom.onPointerMove}
      onPointerUp={zoom.onPointerUp}
      onPointerCancel={zoom.onPointerUp}
      onClick={zoom.onClick}
    >
      {children}
      {zoom.veil}
    </div>
  );
}
