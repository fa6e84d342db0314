/** A scan as it was measured, made ready to be drawn: at most a few points for each pixel, and every extremum. */
export interface ProfilePoint {
  readonly mass: number;
  readonly value: number;
}

/** Pieces of the profile that nothing interrupts: not measured, and on a log axis what is not positive, ends a piece. */
export function profilePieces(
  masses: readonly number[],
  values: readonly (number | null)[],
  onLog: boolean,
): ProfilePoint[][] {
  const pieces: ProfilePoint[][] = [];
  let piece: ProfilePoint[] = [];
  const end = () => {
    if (piece.length > 0) pieces.push(piece);
    piece = [];
  };
  masses.forEach((mass, i) => {
    const value = values[i];
    if (value == null || !Number.isFinite(value) || (onLog && value <= 0)) end();
    else piece.push({ mass, value });
  });
  end();
  return pieces;
}

/** Of the points that share a column of `width` masses only the first, the least, the greatest and the last are kept. */
export function thinned(piece: readonly ProfilePoint[], width: number): ProfilePoint[] {
  const out: ProfilePoint[] = [];
  let column: ProfilePoint[] = [];
  const flush = () => {
    const [first] = column;
    const last = column[column.length - 1];
    if (!first || !last) return;
    const least = column.reduce((a, b) => (b.value < a.value ? b : a));
    const greatest = column.reduce((a, b) => (b.value > a.value ? b : a));
    const kept = [...new Set([first, least, greatest, last])].sort((a, b) => a.mass - b.mass);
    out.push(...kept);
    column = [];
  };
  for (const point of piece) {
    const start = column[0];
    if (start && width > 0 && Math.floor(point.mass / width) !== Math.floor(start.mass / width)) flush();
    if (width <= 0) out.push(point);
    else column.push(point);
  }
  flush();
  return out;
}

/** A profile has several points for each mass; bars and selected masses have none to draw a line through. */
export const isProfile = (masses: readonly number[]): boolean =>
  masses.length > 2 && (masses[1] ?? 0) - (masses[0] ?? 0) < 1;
