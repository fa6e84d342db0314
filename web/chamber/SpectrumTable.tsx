import type { Spectrum } from '../../shared/contract/readings.ts';
import { fromPascal, type PressureUnit } from '../../shared/units.ts';
import { gasTitle } from '../notation/gas.ts';
import { scientific } from '../notation/number.ts';
import { words } from '../strings/spectrum.ts';
import { percent } from './spectrumWords.ts';

/** A share below this is not worth a word. */
const LEAST_SHARE = 0.005;

function partsText({ parts, unexplained }: Spectrum['peaks'][number]): string {
  const told = [...parts]
    .sort((a, b) => b.share - a.share)
    .filter(({ share }) => share >= LEAST_SHARE)
    .map(({ gas, share }) => words.part(gasTitle(gas), percent(share)));
  return [...told, ...(unexplained >= LEAST_SHARE ? [words.part(words.unexplained, percent(unexplained))] : [])].join(
    ', ',
  );
}

/** The same peaks as the picture: those above the floor, by mass. */
export function SpectrumTable({ spectrum, unit }: { readonly spectrum: Spectrum; readonly unit: PressureUnit }) {
  const above = [...spectrum.peaks]
    .filter(({ value }) => value !== null && value > 0 && value >= (spectrum.floor ?? 0))
    .sort((a, b) => a.mass - b.mass);
  const written = (pressurePa: number | null) =>
    pressurePa === null || pressurePa <= 0 ? '—' : scientific(fromPascal(pressurePa, unit));
  return (
    <details className="undetected">
      <summary>{words.table}</summary>
      {above.length === 0 ? <p className="note">{words.noneAbove}</p> : null}
      {above.length > 0 ? (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls in itself and must be reachable by keyboard
        <section className="trend-table" tabIndex={0} aria-label={words.table}>
          <table>
            <thead>
              <tr>
                <th scope="col">{words.mass}</th>
                <th scope="col">{words.height(unit)}</th>
                <th scope="col">{words.usual(unit)}</th>
                <th scope="col">{words.parts}</th>
              </tr>
            </thead>
            <tbody>
              {above.map((peak) => (
                <tr key={peak.mass}>
                  <th scope="row">{peak.mass}</th>
                  <td className="num">{written(peak.value)}</td>
                  <td className="num">{written(peak.baseline)}</td>
                  <td>{partsText(peak)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      ) : null}
    </details>
  );
}
