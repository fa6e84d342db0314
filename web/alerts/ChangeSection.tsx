import { useMemo, useState } from 'react';
import type { ChangeSpectrum } from '../../shared/contract/alerts.ts';
import { useWidth } from '../charts/useWidth.ts';
import { Key } from '../frame/Key.tsx';
import { useKeys } from '../frame/keys.ts';
import { Section } from '../frame/Section.tsx';
import { useUnit } from '../frame/site.ts';
import { pressure } from '../notation/pressure.ts';
import { capital, listed } from '../notation/sentence.ts';
import { words as says } from '../strings/alertChange.ts';
import { Rich } from '../strings/Rich.tsx';
import { ChangePicture } from './ChangePicture.tsx';
import { type ChangedMass, changedMasses, inUnit, mostChanged } from './changeScale.ts';

/** Closer together, neighbouring bars could not be told apart: the figure scrolls in itself instead. */
const LEAST_PX_PER_MASS = 5.5;
const NAMED_IN_WORDS = 5;

/** The change that the alert stands on, mass by mass. */
export function ChangeSection({ change }: { readonly change: ChangeSpectrum | null }) {
  const [asTable, setAsTable] = useState(false);
  useKeys({ d: () => setAsTable(!asTable) });
  return (
    <Section className="sec last" margin={change ? <HowToRead /> : undefined}>
      <div className="ph">
        <h2>{says.whatChanged}</h2>
        {change ? (
          <button type="button" aria-pressed={asTable} onClick={() => setAsTable(!asTable)}>
            <Rich text={says.asATable} parts={{ key: () => <Key name="d" /> }} />
          </button>
        ) : null}
      </div>
      {change ? <TheChange change={change} asTable={asTable} /> : <p className="note">{NO_CHANGE}</p>}
    </Section>
  );
}

const NO_CHANGE = says.thisAlertDoesNotStand;

function TheChange({ change, asTable }: { readonly change: ChangeSpectrum; readonly asTable: boolean }) {
  const unit = useUnit();
  const [box, width] = useWidth<HTMLDivElement>();
  const masses = useMemo(() => changedMasses(change), [change]);
  const drawn = useMemo(() => changedMasses(inUnit(change, unit)), [change, unit]);
  const words = changeSentence(masses);
  const span = (masses[masses.length - 1]?.mass ?? 0) - (masses[0]?.mass ?? 0) + 1;
  const least = span * LEAST_PX_PER_MASS;
  return (
    <>
      <p className="say">{words}</p>
      {asTable ? (
        <ChangeTable masses={masses} />
      ) : (
        <div className="plotbox change-box" ref={box} tabIndex={width < least ? 0 : undefined}>
          <div role="img" aria-label={says.changeSpectrum(words)}>
            <ChangePicture masses={drawn} unit={unit} width={Math.max(width, least)} />
          </div>
        </div>
      )}
      {change.gaugeChangePa === null ? null : (
        <p className="note">
          {(change.gaugeChangePa < 0 ? says.gaugeFell : says.gaugeRose)(pressure(Math.abs(change.gaugeChangePa), unit))}
        </p>
      )}
    </>
  );
}

/** The picture in words: what rose most, what fell. */
export function changeSentence(masses: readonly ChangedMass[]): string {
  const told = mostChanged(masses, masses.length);
  if (told.length === 0) return says.noSingleMassChanged;
  const rose = told.filter(({ fell }) => !fell);
  const fallen = told.filter(({ fell }) => fell);
  const names = (list: readonly ChangedMass[]) => {
    const named = list.slice(0, NAMED_IN_WORDS).map(({ mass }) => String(mass));
    const more = list.length - named.length;
    return more > 0 ? says.andMore(named.join(', '), more) : listed(named);
  };
  const parts = [
    rose.length > 0 ? says.massesRose(rose.length, names(rose)) : null,
    fallen.length > 0 ? says.massesFell(fallen.length, names(fallen)) : null,
  ].filter((part) => part !== null);
  const changed = capital(parts.join('; '));
  return told.length > 1 ? says.changedInOrder(changed) : says.changed(changed);
}

function ChangeTable({ masses }: { readonly masses: readonly ChangedMass[] }) {
  const unit = useUnit();
  const said = (one: ChangedMass): string => {
    if (one.change === null) return one.atMost === null ? says.cannotTell : says.atMost(pressure(one.atMost, unit));
    const value = `${one.fell ? '−' : '+'}${pressure(one.change, unit)}`;
    return one.high === null ? value : says.giveOrTake(value, pressure(one.high - one.change, unit));
  };
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reached by keys
    <section className="trend-table" aria-label={says.theChangeAsATable} tabIndex={0}>
      <table>
        <thead>
          <tr>
            <th scope="col">{says.massU}</th>
            <th scope="col">{says.usual}</th>
            <th scope="col">{says.change}</th>
          </tr>
        </thead>
        <tbody>
          {masses.map((one) => (
            <tr key={one.mass}>
              <th scope="row">{one.mass}</th>
              <td className="num">{one.usual === null ? says.belowDetection : pressure(one.usual, unit)}</td>
              <td className="num">{said(one)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function HowToRead() {
  return (
    <>
      {says.outlineWhatIsUsual}
      <br />
      {says.dashOnAPost}
      <br />
      {says.hollowDashWhatFell}
      <br />
      {says.lineItsInterval}
      <br />
      {says.twoDotsAtMost}
    </>
  );
}
