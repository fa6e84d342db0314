import { usePlotArea, useXAxisScale, useYAxisScale } from 'recharts';

export interface Scales {
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
  readonly plot: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number };
}

/** The chart's own scales for a layer that draws in pixels; null until the chart has measured itself. */
export function useScales(): Scales | null {
  const xScale = useXAxisScale();
  const yScale = useYAxisScale();
  const area = usePlotArea();
  if (!xScale || !yScale || !area) return null;
  return {
    x: (value) => Number(xScale(value)),
    y: (value) => Number(yScale(value)),
    plot: { left: area.x, right: area.x + area.width, top: area.y, bottom: area.y + area.height },
  };
}
