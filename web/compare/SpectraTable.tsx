import type { Spectrum } from '../../shared/contract/readings.ts';
import { fromPascal, type PressureUnit } from '../../shared/units.ts';
import { useUnit } from '../frame/site.ts';
import { scientific } from '../notation/number.ts';
import { words } from '../strings/compareBefore.ts';
import { words as spectrumWords } from '../strings/spectrum.ts';

/** Null: under the floor; undefined: the scan has no such mass. */
type Height = number | null | undefined;
interface Heights {
  readonly before: Height;
  readonly after: Height;
}

const heightIn = ({ peaks, floor }: Spectrum) => {
  const heights = new Map(peaks.map(({ mass, value }) => [mass, value]));
  return (mass: number): Height => {
    const value = heights.get(mass);
    return value == null ? value : value > 0 && value >= (floor ?? 0) ? value : null;
  };
};

/** Peaks that stand above the floor in either scan, by mass. */
export function heightsOf(before: Spectrum, after: Spectrum): readonly (readonly [number, Heights])[] {
  const masses = [...new Set([...before.peaks, ...after.peaks].map(({ mass }) => mass))].sort((a, b) => a - b);
  const [first, second] = [heightIn(before), heightIn(after)];
  return masses
    .map((mass) => [mass, { before: first(mass), after: second(mass) }] as const)
    .filter(([, heights]) => heights.before != null || heights.after != null);
}

const written = (height: Height, floor: number | null, unit: PressureUnit): string => {
  if (height === undefined) return words.notMeasured;
  if (height !== null) return scientific(fromPascal(height, unit));
  return floor === null ? words.underFloor : words.belowFloor(scientific(fromPascal(floor, unit)));
};

/** The same as the picture. */
export function SpectraTable({ before, after }: { readonly before: Spectrum; readonly after: Spectrum }) {
  const unit = useUnit();
  const heights = heightsOf(before, after);
  return (
    <details className="undetected">
      <summary>{words.spectraTable}</summary>
      {heights.length === 0 ? (
        <p className="note">{spectrumWords.noneAbove}</p>
      ) : (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls in itself and must be reachable by keyboard
        <section className="trend-table" tabIndex={0} aria-label={words.spectraTable}>
          <table>
            <thead>
              <tr>
                <th scope="col">{spectrumWords.mass}</th>
                <th scope="col">{words.heightBefore(unit)}</th>
                <th scope="col">{words.heightAfter(unit)}</th>
              </tr>
            </thead>
            <tbody>
              {heights.map(([mass, one]) => (
                <tr key={mass}>
                  <th scope="row">{mass}</th>
                  <td className="num">{written(one.before, before.floor, unit)}</td>
                  <td className="num">{written(one.after, after.floor, unit)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
    </details>
  );
}
