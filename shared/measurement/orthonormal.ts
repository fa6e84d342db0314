/**
 * Polynomials in time that are orthonormal over given instants, by G. E. Forsythe's recurrence (J. Soc. Indust. Appl. Math.
 * 5 (1957) 74): p(k+1) = (z − a(k))·p(k) − b(k)·p(k−1), each divided by its length over the instants.
 */

export interface Orthonormal {
  /** By degree from 0 on: the values at the instants. */
  readonly columns: readonly (readonly number[])[];
  /** Values at any hour, by degree. */
  readonly at: (hour: number) => readonly number[];
}

/** What rounding leaves of the squares of a polynomial that vanishes at every instant. */
const VANISHES = 1e-18;

/** @param hours at least two different ones; a degree that they cannot carry is 0 everywhere */
export function orthonormalOver(hours: readonly number[], degree: number): Orthonormal {
  const first = hours[0] ?? 0;
  const span = (hours.at(-1) ?? 0) - first || 1;
  const z = hours.map((hour) => (hour - first) / span);
  const [a, b, length]: [number[], number[], number[]] = [[], [], []];
  const columns: number[][] = [];
  let [before, now]: [readonly number[], readonly number[]] = [[], hours.map(() => 1)];
  for (let k = 0; k <= degree; k++) {
    let [squares, moved] = [0, 0];
    for (let j = 0; j < z.length; j++) {
      const square = (now[j] ?? 0) ** 2;
      squares += square;
      moved += (z[j] ?? 0) * square;
    }
    const there = squares > VANISHES;
    const size = there ? Math.sqrt(squares) : Number.POSITIVE_INFINITY;
    const [shift, back] = [there ? moved / squares : 0, k === 0 ? 0 : squares / (length[k - 1] ?? 1) ** 2];
    length.push(size);
    a.push(shift);
    b.push(back);
    columns.push(now.map((value) => value / size));
    const [last, here] = [before, now];
    before = here;
    now = z.map((one, j) => (one - shift) * (here[j] ?? 0) - back * (last[j] ?? 0));
  }
  const at = (hour: number): number[] => {
    const [values, where] = [[1], (hour - first) / span];
    for (let k = 0; k < degree; k++)
      values.push((where - (a[k] ?? 0)) * (values[k] ?? 0) - (b[k] ?? 0) * (values[k - 1] ?? 0));
    return values.map((value, k) => value / (length[k] ?? 1));
  };
  return { columns, at };
}
